namespace PostPipeline.RenderTimes;

/// <summary>What a comparison of two models came to.</summary>
public enum BetterModel
{
    /// <summary>The rows do not tell them apart.</summary>
    Undecided,

    /// <summary>The first errs less.</summary>
    First,

    /// <summary>The second errs less.</summary>
    Second,
}
