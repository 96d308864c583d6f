using PostPipeline.Notebooks.Documents;

namespace PostPipeline.Notebooks.Runs;

/// <summary>What has come from a run so far.</summary>
internal sealed class Gathered(NotebookFile notebook, Action<int, int>? progress)
{
    private readonly int total = notebook.Cells.Count(cell => cell.IsCode && cell.Source.Trim().Length > 0);
    private readonly List<ExecutedCell> cells = [];
    private readonly List<CellOutput> outputs = [];
    private readonly List<PartTime> times = [];
    private IReadOnlyList<(string Name, string Value)> inputs = [];
    private IReadOnlyList<(string Name, string Value)> marks = [];
    private NotebookCell? running;
    private string? problem;

    public bool IsDone { get; private set; }

    /// <summary>Why the run was broken off from this side, or null.</summary>
    public string? Broken { get; set; }

    public void Take(RunMessage message)
    {
        switch (message)
        {
            case RunMessage.Started started:
                running = notebook.Cells[started.Cell];
                outputs.Clear();
                progress?.Invoke(cells.Count + 1, total);
                break;
            case RunMessage.Put put:
                outputs.Add(put.Output);
                break;
            case RunMessage.Ended:
                EndCell();
                break;
            case RunMessage.Inputs values:
                inputs = values.Values;
                break;
            case RunMessage.Marks values:
                marks = values.Values;
                break;
            case RunMessage.Took took:
                times.Add(took.Time);
                break;
            case RunMessage.Done done:
                problem = done.Problem;
                IsDone = true;
                break;
        }
    }

    /// <summary>Called when the process is gone.</summary>
    /// <param name="exitCode">Its exit code; null where it was killed.</param>
    public void Close(int? exitCode)
    {
        if (IsDone)
        {
            return;
        }

        string happened = Broken ?? $"The process ended by itself (exit code {exitCode?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "unknown"})";
        problem = running is null ? happened + "." : $"{happened} while cell {running.Index + 1} ran.";
        if (running is not null)
        {
            outputs.Add(new CellOutput.Error("run", problem, null, []));
            EndCell();
        }
    }

    public RunResult Result(IReadOnlyList<(string Part, string Version)> versions)
    {
        ExecutedCell? failed = cells.FirstOrDefault(cell => cell.Error is not null);
        string? why = problem ?? (failed is null ? null : $"Cell {failed.Cell.Index + 1}{(failed.Error!.Line is int line ? $", line {line}" : string.Empty)}: {failed.Error.Message}");
        return new(notebook, cells, new(inputs, versions, why) { Marks = marks }) { Times = [.. times] };
    }

    private void EndCell()
    {
        cells.Add(new(running!, cells.Count + 1, [.. outputs]));
        outputs.Clear();
        running = null;
    }
}
