namespace PostPipeline.Studies.Briefs;

/// <summary>Effects plates and the versions that come back; how many and how long are inputs.</summary>
/// <param name="Handles">Frames kept on both sides of a plate.</param>
public sealed record EffectsPlan(int Handles);
