using System.Reflection;
using Microsoft.CodeAnalysis.Scripting;
using Microsoft.DotNet.Interactive;
using Microsoft.DotNet.Interactive.Commands;
using Microsoft.DotNet.Interactive.CSharp;
using Microsoft.DotNet.Interactive.Events;
using Microsoft.DotNet.Interactive.Formatting;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Rendering;
using LinePosition = Microsoft.DotNet.Interactive.LinePosition;

namespace PostPipeline.Notebooks.Engines;

/// <summary>
/// Cells on the in-process C# kernel of Microsoft.DotNet.Interactive. Values are rendered by us from the events' own objects,
/// so the kernel's process-wide formatters are never used. A cell that never ends cannot be stopped from here: whoever hosts
/// this engine ends the process.
/// </summary>
public sealed class InteractiveEngine : ICellEngine
{
    // The kernel keeps its compiler options to itself, and without debug information an exception has no line. The field is
    // that of the one version we pin; where it is missing, errors at run time simply carry no line.
    private static readonly FieldInfo? OptionsField = typeof(CSharpKernel).GetField("_scriptOptions", BindingFlags.Instance | BindingFlags.NonPublic);

    private readonly CSharpKernel csharp;
    private readonly CompositeKernel kernel;
    private readonly IDisposable subscription;
    private readonly CellSetup setup;
    private CellContext? context;
    private string file = string.Empty;
    private bool prepared;
    private bool failed;

    // The kernel formats every value itself as well, by reflection over all that hangs on it; nobody reads that.
    static InteractiveEngine()
    {
        foreach (Type ours in new[] { typeof(Charts.Figure), typeof(Charts.NumberTable), typeof(MimeBundle), typeof(Markdown), typeof(Caution), typeof(Derivation) })
        {
            Formatter.SetPreferredMimeTypesFor(ours, PlainTextFormatter.MimeType);
            Formatter.Register(ours, (_, writer) => writer.Write("shown"), PlainTextFormatter.MimeType);
        }
    }

    /// <summary>A kernel with nothing run yet.</summary>
    /// <param name="setup">What cells can use without asking.</param>
    public InteractiveEngine(CellSetup setup)
    {
        this.setup = setup;
        csharp = new CSharpKernel().UseKernelHelpers().UseWho().UseValueSharing();
        csharp.AddAssemblyReferences([.. setup.References.Select(assembly => assembly.Location).Distinct()]);
        kernel = new CompositeKernel();
        kernel.Add(csharp, ["c#", "C#"]);
        subscription = kernel.KernelEvents.Subscribe(new Observer(this));
    }

    /// <inheritdoc/>
    public async Task<bool> RunAsync(string code, int cell, CellContext context)
    {
        CellContext? outer = CellContext.Current;
        CellContext.Current = context;
        try
        {
            if (!prepared)
            {
                prepared = true;
                await kernel.SendAsync(new SubmitCode(setup.UsingCode), context.Stop).ConfigureAwait(false);
            }

            this.context = context;
            failed = false;
            file = $"cell {cell}";
            if (OptionsField?.GetValue(csharp) is ScriptOptions options)
            {
                OptionsField.SetValue(csharp, options.WithEmitDebugInformation(true).WithFilePath(file).WithFileEncoding(System.Text.Encoding.UTF8));
            }

            await kernel.SendAsync(new SubmitCode(code), context.Stop).ConfigureAwait(false);
            return !failed;
        }
        finally
        {
            this.context = null;
            CellContext.Current = outer;
        }
    }

    /// <summary>What an editor can offer at a place in some code.</summary>
    /// <param name="code">The code.</param>
    /// <param name="position">The place, from 0.</param>
    public async Task<IReadOnlyList<string>> CompleteAsync(string code, int position)
    {
        string[] lines = code[..position].Split('\n');
        KernelCommandResult result = await kernel.SendAsync(new RequestCompletions(code, new LinePosition(lines.Length - 1, lines[^1].Length))).ConfigureAwait(false);
        return [.. result.Events.OfType<CompletionsProduced>().SelectMany(found => found.Completions).Select(c => c.InsertText).Distinct()];
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        subscription.Dispose();
        kernel.Dispose();
    }

    private void Take(KernelEvent happened)
    {
        CellContext? to = context;
        if (to is null)
        {
            return;
        }

        switch (happened)
        {
            case StandardOutputValueProduced text:
                to.Sink(new CellOutput.Text("stdout", Content(text)));
                break;
            case StandardErrorValueProduced text:
                to.Sink(new CellOutput.Text("stderr", Content(text)));
                break;
            case ReturnValueProduced result when result.Value is not null:
                to.Sink(new CellOutput.Value(Renderer.ToBundle(result.Value), true));
                break;
            case DisplayedValueProduced shown:
                to.Sink(new CellOutput.Value(Renderer.ToBundle(shown.Value), false));
                break;
            case DisplayedValueUpdated shown:
                to.Sink(new CellOutput.Value(Renderer.ToBundle(shown.Value), false));
                break;
            case CommandFailed problem:
                failed = true;
                to.Sink(CellErrors.Of(problem.Exception, problem.Message, file));
                break;
        }
    }

    private static string Content(DisplayEvent text) => text.FormattedValues.FirstOrDefault()?.Value ?? text.Value?.ToString() ?? string.Empty;

    private sealed class Observer(InteractiveEngine engine) : IObserver<KernelEvent>
    {
        public void OnCompleted()
        {
        }

        public void OnError(Exception error)
        {
        }

        public void OnNext(KernelEvent value) => engine.Take(value);
    }
}
