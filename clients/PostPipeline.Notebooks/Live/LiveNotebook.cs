using System.Diagnostics;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Pages;
using PostPipeline.Notebooks.Parameters;
using PostPipeline.Notebooks.Runs;

namespace PostPipeline.Notebooks.Live;

/// <summary>
/// A notebook compiled once, whose cells run again when a parameter changes: from the first cell that says it reads the
/// parameter, to the last. A newer change cancels an older one that is under way.
/// </summary>
public sealed class LiveNotebook : IDisposable
{
    // Charts are drawn while later cells still compute: one processor is left to the browser. The first run has none to wait for.
    private static readonly int Beside = Math.Max(1, Environment.ProcessorCount - 1);

    private readonly ScriptChain chain;
    private readonly NotebookCell[] cells;
    private readonly string[] shown;
    private readonly int parametersAt;
    private readonly SemaphoreSlim turn = new(1, 1);
    private CancellationTokenSource newest = new();
    private int dirtyFrom;

    private LiveNotebook(NotebookFile notebook, NotebookCell[] cells, ScriptChain chain)
    {
        (Notebook, this.cells, this.chain) = (notebook, cells, chain);
        shown = [.. cells.Select(_ => string.Empty)];
        parametersAt = Array.FindIndex(cells, c => c.Has(NotebookCell.ParametersTag));
    }

    /// <summary>The notebook.</summary>
    public NotebookFile Notebook { get; }

    /// <summary>The parameters with their present values.</summary>
    public IReadOnlyList<ParameterDeclaration> Parameters { get; private set; } = [];

    /// <summary>Compiles a notebook and runs it once.</summary>
    /// <param name="setup">What cells can use without asking.</param>
    /// <param name="notebook">The notebook.</param>
    /// <param name="values">Parameter values to begin with.</param>
    /// <param name="stop">Gives up.</param>
    /// <exception cref="ScriptChainException">A cell does not compile.</exception>
    /// <exception cref="ParameterException">A value is not allowed.</exception>
    public static async Task<LiveNotebook> OpenAsync(CellSetup setup, NotebookFile notebook, IReadOnlyDictionary<string, string> values, CancellationToken stop = default)
    {
        NotebookCell[] cells = [.. notebook.Cells.Where(c => c.IsCode && c.Source.Trim().Length > 0)];
        LiveNotebook live = new(notebook, cells, ScriptChain.Compile(setup, [.. cells.Select(c => (c.Source, c.Index + 1))], stop));
        ParameterSet set = new(values);
        await live.RunFromAsync(0, set, _ => { }, stop).ConfigureAwait(false);
        set.RefuseUnknown();
        live.Parameters = [.. set.Declared];
        return live;
    }

    /// <summary>How long a change waits for a cell of an older one that does not end.</summary>
    internal TimeSpan Patience { get; set; } = TimeSpan.FromSeconds(60);

    /// <summary>What a cell shows now, as HTML.</summary>
    /// <param name="cell">Its index in the notebook.</param>
    public string ShownBy(int cell) => Array.FindIndex(cells, c => c.Index == cell) is var at and >= 0 ? shown[at] : string.Empty;

    /// <summary>Sets parameters and runs what depends on them. A call that comes later cancels this one.</summary>
    /// <param name="values">Values by name; parameters that are not named keep theirs.</param>
    /// <param name="tell">Told while cells run.</param>
    /// <returns>False where a newer call took over.</returns>
    /// <exception cref="ParameterException">A value is not allowed; nothing was run.</exception>
    public async Task<bool> SetAsync(IReadOnlyDictionary<string, string> values, Action<LiveEvent> tell)
    {
        if (values.Keys.Select(name => Parameters.FirstOrDefault(p => p.Name == name)).FirstOrDefault(p => p is { Kind: ParameterKind.File } && values[p.Name] != p.Value) is { } file)
        {
            throw new ParameterException($"parameter {file.Name}: a file is named on the command line only");
        }

        // All values are judged before anything runs, so that a refused change changes nothing.
        _ = ParameterSet.Check(Parameters, Merged(values));
        CancellationTokenSource mine = new();
        CancellationTokenSource older = Interlocked.Exchange(ref newest, mine);
        await older.CancelAsync().ConfigureAwait(false);
        if (!await turn.WaitAsync(Patience).ConfigureAwait(false))
        {
            throw new ParameterException($"a cell has not ended for {Patience.TotalSeconds:0} s and cannot be stopped from outside; end the command and start it again");
        }

        try
        {
            if (mine.IsCancellationRequested)
            {
                return false;
            }

            long began = Stopwatch.GetTimestamp();
            Dictionary<string, string> all = Merged(values);
            string[] changed = [.. Parameters.Where(p => all[p.Name] != p.Value).Select(p => p.Name)];
            ParameterSet set = new(all);
            bool settled = await Task.Run(() => ApplyAsync(changed, set, tell, mine.Token)).ConfigureAwait(false);
            if (settled)
            {
                tell(new LiveEvent.Settled(Parameters.ToDictionary(p => p.Name, p => p.Value), Stopwatch.GetElapsedTime(began).TotalMilliseconds));
            }

            return settled;
        }
        finally
        {
            turn.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        newest.Cancel();
        newest.Dispose();
        turn.Dispose();
    }

    private async Task<bool> ApplyAsync(string[] changed, ParameterSet set, Action<LiveEvent> tell, CancellationToken stop)
    {
        if (changed.Length == 0 && dirtyFrom >= cells.Length)
        {
            return true;
        }

        if (parametersAt >= 0)
        {
            CellContext context = new(_ => { }, set, CancellationToken.None);
            if (!await chain.RefreshAsync(parametersAt, cells[parametersAt].Index + 1, context).ConfigureAwait(false))
            {
                return false;
            }

            Parameters = [.. set.Declared];
        }

        int first = Array.FindIndex(cells, cell => !cell.Has(NotebookCell.ParametersTag) && (cell.Reads is null || cell.Reads.Intersect(changed).Any()));
        return await RunFromAsync(Math.Min(dirtyFrom, first < 0 ? cells.Length : first), set, tell, stop).ConfigureAwait(false);
    }

    // What was cancelled half-way stays marked, so that the next change runs it too, whatever it depends on.
    private async Task<bool> RunFromAsync(int first, ParameterSet set, Action<LiveEvent> tell, CancellationToken stop)
    {
        dirtyFrom = first;
        for (int i = first; i < cells.Length; i++)
        {
            if (i == parametersAt && Parameters.Count > 0)
            {
                dirtyFrom = i + 1;
                continue;
            }

            if (stop.IsCancellationRequested)
            {
                return false;
            }

            tell(new LiveEvent.Busy(cells[i].Index));
            List<CellOutput> outputs = [];
            OutputGate gate = new(outputs.Add);
            bool fine = await chain.RunAsync(i, cells[i].Index + 1, new(gate.Take, set, stop) { Threads = Parameters.Count > 0 ? Beside : Environment.ProcessorCount }).ConfigureAwait(false);
            gate.Flush();
            if (stop.IsCancellationRequested)
            {
                return false;
            }

            shown[i] = OutputHtml.Of(outputs);
            tell(new LiveEvent.Shown(cells[i].Index, shown[i]));
            if (!fine)
            {
                // The cells below would work on what an earlier state left, so they are not shown as if they were current.
                for (int later = i + 1; later < cells.Length; later++)
                {
                    shown[later] = "<p class=\"quiet\">Not run: a cell above ended in an error.</p>";
                    tell(new LiveEvent.Shown(cells[later].Index, shown[later]));
                }

                return true;
            }

            dirtyFrom = i + 1;
        }

        return true;
    }

    private Dictionary<string, string> Merged(IReadOnlyDictionary<string, string> values)
    {
        Dictionary<string, string> all = Parameters.ToDictionary(p => p.Name, p => p.Value);
        foreach ((string name, string value) in values)
        {
            all[name] = value;
        }

        return all;
    }
}
