namespace PostPipeline.Studies.Briefs;

/// <summary>From lock to master.</summary>
/// <param name="Handles">Frames kept on both sides of an event.</param>
/// <param name="Versions">Deliverables.</param>
/// <param name="NoiseReduction">0 none, 1 spatial, 2 temporal, in the final render.</param>
public sealed record FinishPlan(
    int Handles,
    int Versions,
    int NoiseReduction);
