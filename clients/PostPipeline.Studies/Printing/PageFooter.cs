namespace PostPipeline.Studies.Printing;

/// <summary>What stands at the foot of every page that is handed to others.</summary>
/// <param name="Revision">The revision, in the user's words.</param>
/// <param name="Date">The date of print.</param>
/// <param name="InputDigest">SHA-256 of the brief, hex; its first twelve digits are printed.</param>
public sealed record PageFooter(string Revision, string Date, string InputDigest);
