using Microsoft.CodeAnalysis.CSharp.Scripting;
using Microsoft.CodeAnalysis.Scripting;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Engines;

/// <summary>
/// Cells compiled once as a chain of scripts and run again from any cell on, without compiling and without a new assembly:
/// what a page needs on which somebody drags a slider. Each state holds what the cells up to it declared.
/// </summary>
public sealed class ScriptChain
{
    private readonly Script<object>[] scripts;
    private readonly ScriptState<object>?[] states;

    private ScriptChain(Script<object>[] scripts)
    {
        this.scripts = scripts;
        states = new ScriptState<object>?[scripts.Length];
    }

    /// <summary>How many cells it has.</summary>
    public int Count => scripts.Length;

    /// <summary>Compiles cells into a chain.</summary>
    /// <param name="setup">What cells can use without asking.</param>
    /// <param name="cells">The code of each cell and its number from 1.</param>
    /// <param name="stop">Stops between cells.</param>
    /// <exception cref="ScriptChainException">A cell does not compile.</exception>
    public static ScriptChain Compile(CellSetup setup, IReadOnlyList<(string Code, int Cell)> cells, CancellationToken stop = default)
    {
        ScriptOptions options = ScriptOptions.Default
            .AddReferences(setup.References)
            .AddReferences(AppDomain.CurrentDomain.GetAssemblies().Where(assembly => !assembly.IsDynamic && assembly.Location.Length > 0 && (assembly.GetName().Name ?? string.Empty).StartsWith("System.", StringComparison.Ordinal)))
            .AddReferences(typeof(object).Assembly, typeof(Enumerable).Assembly, typeof(Console).Assembly)
            .WithEmitDebugInformation(true)
            .WithCheckOverflow(true)
            .WithFileEncoding(System.Text.Encoding.UTF8);
        Script<object> script = CSharpScript.Create<object>(setup.UsingCode, options);
        List<Script<object>> scripts = [];
        foreach ((string code, int cell) in cells)
        {
            stop.ThrowIfCancellationRequested();
            script = script.ContinueWith<object>(code, options.WithFilePath(FileOf(cell)));
            try
            {
                _ = script.CreateDelegate(stop);
            }
            catch (CompilationErrorException problem)
            {
                throw new ScriptChainException(cell, CellErrors.Of(problem, problem.Message, FileOf(cell)));
            }

            scripts.Add(script);
        }

        return new([.. scripts]);
    }

    /// <summary>Runs one cell on the state that the cell before it left.</summary>
    /// <param name="index">Its place in the chain, from 0; every cell before it has run.</param>
    /// <param name="cell">Its number from 1, for messages.</param>
    /// <param name="context">What surrounds it.</param>
    /// <returns>Whether it ended without an error; where not, the earlier state of this cell stays.</returns>
    public async Task<bool> RunAsync(int index, int cell, CellContext context)
    {
        CellContext? outer = CellContext.Current;
        CellContext.Current = context;
        try
        {
            ScriptState<object> state = index == 0
                ? await scripts[0].RunAsync(cancellationToken: context.Stop).ConfigureAwait(false)
                : await scripts[index].RunFromAsync(states[index - 1]!, context.Stop).ConfigureAwait(false);
            if (context.Stop.IsCancellationRequested)
            {
                return false;
            }

            states[index] = state;
            if (state.ReturnValue is not null)
            {
                context.Sink(new CellOutput.Value(Renderer.ToBundle(state.ReturnValue), true));
            }

            return true;
        }
        catch (OperationCanceledException) when (context.Stop.IsCancellationRequested)
        {
            return false;
        }
#pragma warning disable CA1031 // A cell is somebody's code; whatever it throws is shown where it happened.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            context.Sink(CellErrors.Of(problem, problem.Message, FileOf(cell)));
            return false;
        }
        finally
        {
            CellContext.Current = outer;
        }
    }

    /// <summary>
    /// Runs a cell again and gives its new values to the variables that later cells already hold, so that cells that do not
    /// depend on them need not run again.
    /// </summary>
    /// <param name="index">Its place in the chain; it has run before.</param>
    /// <param name="cell">Its number from 1, for messages.</param>
    /// <param name="context">What surrounds it.</param>
    /// <returns>Whether it ended without an error.</returns>
    public async Task<bool> RefreshAsync(int index, int cell, CellContext context)
    {
        ScriptState<object>? held = states[index];
        if (!await RunAsync(index, cell, context).ConfigureAwait(false))
        {
            return false;
        }

        if (held is not null)
        {
            foreach (ScriptVariable variable in states[index]!.Variables)
            {
                if (held.GetVariable(variable.Name) is { IsReadOnly: false } target)
                {
                    target.Value = variable.Value;
                }
            }

            states[index] = held;
        }

        return true;
    }

    private static string FileOf(int cell) => $"cell {cell}";
}
