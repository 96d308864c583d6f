namespace PostPipeline.Slates.Options;

/// <summary>A generation of one pipeline of one project over all draws.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Tier">online or nearline.</param>
/// <param name="Stage">Place of the stage that writes it.</param>
/// <param name="Until">Place of the stage after whose end it may be deleted.</param>
/// <param name="KeepDays">Days that it stays after that.</param>
/// <param name="Bytes">Bytes.</param>
public sealed record GenerationDraws(string Name, string Tier, int Stage, int Until, double KeepDays, double[] Bytes);
