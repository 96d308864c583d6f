namespace PostPipeline.Slates.Planning;

/// <summary>A date that gives way.</summary>
/// <param name="Project">Whose.</param>
/// <param name="LateBefore">Half-days late without the enquiry; 0 for the enquiry itself.</param>
/// <param name="LateAfter">Half-days late with it.</param>
public sealed record DateChange(string Project, int LateBefore, int LateAfter);
