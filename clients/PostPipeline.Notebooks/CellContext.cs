using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Notebooks;

/// <summary>What surrounds a running cell: where its outputs go, the parameters, and when to stop. It flows with the call.</summary>
/// <param name="Sink">Takes the outputs, in order.</param>
/// <param name="Parameters">The parameters of the run.</param>
/// <param name="Stop">Cancelled when the answer is no longer wanted.</param>
public sealed record CellContext(Action<CellOutput> Sink, ParameterSet Parameters, CancellationToken Stop)
{
    private static readonly AsyncLocal<CellContext?> Ambient = new();

    /// <summary>How many threads a study may use here: a page that is being looked at leaves a processor to the browser.</summary>
    public int Threads { get; init; } = Environment.ProcessorCount;

    /// <summary>The context of the cell that runs here, or null outside of one.</summary>
    public static CellContext? Current
    {
        get => Ambient.Value;
        internal set => Ambient.Value = value;
    }
}
