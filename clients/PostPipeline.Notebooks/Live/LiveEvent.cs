namespace PostPipeline.Notebooks.Live;

/// <summary>What a live page is told while cells run.</summary>
public abstract record LiveEvent
{
    private LiveEvent()
    {
    }

    /// <summary>A cell began to run again.</summary>
    /// <param name="Cell">Its index in the notebook.</param>
    public sealed record Busy(int Cell) : LiveEvent;

    /// <summary>A cell ended; this is what it shows now.</summary>
    /// <param name="Cell">Its index in the notebook.</param>
    /// <param name="Html">Its outputs.</param>
    public sealed record Shown(int Cell, string Html) : LiveEvent;

    /// <summary>The state is what was asked for.</summary>
    /// <param name="Values">Parameter values by name.</param>
    /// <param name="Milliseconds">How long the cells took.</param>
    public sealed record Settled(IReadOnlyDictionary<string, string> Values, double Milliseconds) : LiveEvent;
}
