using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Notebooks.Runs;

/// <summary>Runs the code cells of a notebook in order in this process and tells of each; the first error ends the run.</summary>
/// <param name="engine">Runs a cell.</param>
/// <param name="notebook">The notebook.</param>
/// <param name="parameters">The values asked for.</param>
public sealed class NotebookSession(ICellEngine engine, NotebookFile notebook, ParameterSet parameters)
{
    /// <summary>Runs all cells.</summary>
    /// <param name="started">Told before a cell runs.</param>
    /// <param name="output">Told of every output, in order.</param>
    /// <param name="ended">Told after a cell ran, with whether it ended without an error.</param>
    /// <param name="stop">Stops between cells, and in cells that look at it.</param>
    /// <returns>Whether every cell ended without an error.</returns>
    public async Task<bool> RunAsync(Action<NotebookCell> started, Action<NotebookCell, CellOutput> output, Action<NotebookCell, bool> ended, CancellationToken stop)
    {
        if (notebook.Parameters is null)
        {
            parameters.RefuseUnknown();
        }

        foreach (NotebookCell cell in notebook.Cells.Where(cell => cell.IsCode && cell.Source.Trim().Length > 0))
        {
            stop.ThrowIfCancellationRequested();
            started(cell);
            OutputGate gate = new(produced => output(cell, produced));
            bool fine;
            using (Timer flush = new(_ => gate.Flush(), null, 250, 250))
            {
                fine = await engine.RunAsync(cell.Source, cell.Index + 1, new(gate.Take, parameters, stop)).ConfigureAwait(false);
            }

            if (fine && ReferenceEquals(cell, notebook.Parameters))
            {
                try
                {
                    parameters.RefuseUnknown();
                }
                catch (ParameterException problem)
                {
                    gate.Take(new CellOutput.Error("parameter", problem.Message, null, []));
                    fine = false;
                }
            }

            gate.Flush();
            ended(cell, fine);
            if (!fine)
            {
                return false;
            }
        }

        return true;
    }
}
