using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>One or two inputs over a grid, any outputs, cell by cell on the same draws.</summary>
public sealed class Sweep
{
    /// <summary>The most cells.</summary>
    public const int MaximumCells = 1_000_000;

    private static readonly (string Name, Func<PipelineOutcome, StudyModel, double> Take)[] Known =
    [
        ("delivery-p10", (p, _) => p.Delivery.P10), ("delivery-p50", (p, _) => p.Delivery.P50), ("delivery-p90", (p, _) => p.Delivery.P90),
        ("days-late-p90", (p, m) => (p.Delivery.P90 - m.Due) / 86_400),
        ("on-time", (p, _) => p.OnTime.Share), ("on-time-lock-held", (p, _) => p.OnTimeIfLockHolds.Share),
        ("cost-p50", (p, _) => p.Cost.P50), ("cost-p90", (p, _) => p.Cost.P90),
        ("online-peak-p90", (p, _) => p.OnlinePeak.P90), ("nearline-peak-p90", (p, _) => p.NearlinePeak.P90),
        ("farm-finish-p90", (p, _) => p.FarmFinish.P90), ("node-hours-p50", (p, _) => p.NodeHours.P50), ("person-hours-p50", (p, _) => p.PeopleHours.P50),
    ];

    private readonly StudyModel model;
    private readonly DrawSet draws;
    private readonly int[] outputs;

    /// <summary>Prepares a sweep.</summary>
    /// <param name="model">The model.</param>
    /// <param name="axes">One or two axes.</param>
    /// <param name="outputs">Names of outputs, see <see cref="OutputNames"/>.</param>
    /// <param name="count">Draws of a cell.</param>
    /// <exception cref="ArgumentException">Too many axes or cells, or an output that there is not.</exception>
    public Sweep(StudyModel model, IReadOnlyList<SweepAxis> axes, IReadOnlyList<string> outputs, int count)
    {
        (this.model, Axes, Outputs) = (model, axes, outputs);
        Cells = axes.Aggregate(1L, (n, a) => n * a.Values.Count) is long cells and <= MaximumCells
            ? (int)cells
            : throw new ArgumentException($"the grid has more cells than the {MaximumCells} that are allowed", nameof(axes));
        if (axes.Count is < 1 or > 2 || axes.Select(a => a.Input).Distinct().Count() < axes.Count)
        {
            throw new ArgumentException($"{axes.Count} axes were given; allowed are one or two, of different inputs", nameof(axes));
        }

        this.outputs = [.. outputs.Select(name => Array.FindIndex(Known, k => k.Name == name) is int place and >= 0
            ? place
            : throw new ArgumentException($"There is no output '{name}'; there are {string.Join(", ", OutputNames)}.", nameof(outputs)))];
        draws = DrawSet.Sample(model.Inputs, count, model.Study.Brief.Seed);
    }

    /// <summary>The outputs that there are; dates in seconds on the study's clock.</summary>
    public static IReadOnlyList<string> OutputNames { get; } = [.. Known.Select(k => k.Name)];

    /// <summary>The axes.</summary>
    public IReadOnlyList<SweepAxis> Axes { get; }

    /// <summary>The outputs' names.</summary>
    public IReadOnlyList<string> Outputs { get; }

    /// <summary>How many cells there are.</summary>
    public int Cells { get; }

    /// <summary>What the question is: a change of it makes recorded cells useless.</summary>
    public string Question => FormattableString.Invariant(
        $"seed {model.Study.Brief.Seed}; draws {draws.Count}; model {model.Study.Model.ModelId}; {string.Join(" ", model.Inputs.Inputs.Select(i => FormattableString.Invariant($"{i.Key}={i.Low:R}/{i.Likely:R}/{i.High:R}")))}; axes {string.Join(" ", Axes.Select(a => FormattableString.Invariant($"{a.Input}:{string.Join(',', a.Values.Select(v => v.ToString("R", System.Globalization.CultureInfo.InvariantCulture)))}")))}; outputs {string.Join(',', Outputs)}; pipelines {string.Join(',', model.Pipelines)}");

    /// <summary>Computes one cell.</summary>
    /// <param name="number">0 to <see cref="Cells"/> − 1.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public SweepCell Cell(int number, CancellationToken cancellation = default)
    {
        double[] values = ValuesOf(number);
        Decision decision = Decision.Of(model, draws, [.. Axes.Select((a, i) => Change.Fix(a.Input, values[i]))], 1, cancellation);
        return new(number, values, decision.Preferred, [.. decision.Pipelines.Select(p => (IReadOnlyList<double>)[.. outputs.Select(o => Known[o].Take(p, model))])]);
    }

    /// <summary>
    /// Computes all cells that are not yet recorded and hands each over as it is done, in no particular order; several
    /// are computed at a time.
    /// </summary>
    /// <param name="recorded">Numbers of cells that need not be computed.</param>
    /// <param name="done">Takes a finished cell; called by one thread at a time.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="begun">Told the number of each cell that is begun, by several threads at a time; null where nobody asks.</param>
    /// <param name="cancellation">Ends the sweep; cells handed over stay valid.</param>
    public void Run(IReadOnlySet<int> recorded, Action<SweepCell> done, int threads, Action<int>? begun = null, CancellationToken cancellation = default)
    {
        Lock gate = new();
        Parallel.ForEach(
            Enumerable.Range(0, Cells).Where(n => !recorded.Contains(n)),
            new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancellation },
            number =>
            {
                begun?.Invoke(number);
                SweepCell cell = Cell(number, cancellation);
                lock (gate)
                {
                    done(cell);
                }
            });
    }

    private double[] ValuesOf(int number)
    {
        double[] values = new double[Axes.Count];
        for (int a = Axes.Count - 1; a >= 0; a--)
        {
            (number, int at) = Math.DivRem(number, Axes[a].Values.Count);
            values[a] = Axes[a].Values[at];
        }

        return values;
    }
}
