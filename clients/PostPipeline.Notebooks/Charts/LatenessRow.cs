namespace PostPipeline.Notebooks.Charts;

/// <summary>How late a project ends against its due date.</summary>
/// <param name="Name">The project.</param>
/// <param name="P10">Days after the due date, one time in ten below; negative is early.</param>
/// <param name="P50">The median.</param>
/// <param name="P90">One time in ten above.</param>
/// <param name="OnTime">P(on time), 0 to 1.</param>
public sealed record LatenessRow(string Name, double P10, double P50, double P90, double OnTime);
