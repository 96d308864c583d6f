namespace PostPipeline.Slates.Options;

/// <summary>A stage of one pipeline of one project over all draws. Moments are seconds on the slate's clock.</summary>
/// <param name="Name">The stage.</param>
/// <param name="Resource">What does it, in the word of the study: farm, assistants, graders, checkers, link, editors, client.</param>
/// <param name="Kind">How it takes its time.</param>
/// <param name="After">Places of the stages that it waits for.</param>
public sealed record StageDraws(string Name, string Resource, StageKind Kind, IReadOnlyList<int> After)
{
    /// <summary>Node-hours of the reference node with retries and down time, or person-hours, or bytes over a link.</summary>
    public required double[] Work { get; init; }

    /// <summary>When its first material comes.</summary>
    public required double[] First { get; init; }

    /// <summary>When the shoot's last material comes.</summary>
    public required double[] Last { get; init; }

    /// <summary>Seconds that it lasts, or of editing after the last material.</summary>
    public required double[] Lasts { get; init; }

    /// <summary>The moment before which the edit does not end; empty for other stages.</summary>
    public double[] Lock { get; init; } = [];

    /// <summary>Speed of each node class for farm work against the reference node; empty for other work.</summary>
    public IReadOnlyList<double> ClassSpeeds { get; init; } = [];
}
