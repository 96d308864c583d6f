using System.Diagnostics;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Jupyter;
using PostPipeline.Notebooks.Runs;
using PostPipeline.Notebooks.Tests.Support;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>Our kernel under the programs of the distribution: notebooks executed, and a live server with cells run, interrupted and run on.</summary>
public sealed partial class JupyterTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-jupyter-").FullName;

    [SkippableFact]
    public async Task Nbconvert_ExecutesNotebooks_WithChartsThatNeedNoNetwork()
    {
        string nbconvert = Outside.Program("jupyter-nbconvert");
        Install();

        // The two longest, 20 s and more each, only with the long counts; every run of the browser tests executes both of them.
        bool all = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1";
        IReadOnlyList<string> names = [.. NotebookFile.NamesInside.Where(name => all || name is not ("compare" or "slate"))];
        await RunAsync(nbconvert, ["--to", "notebook", "--execute", "--ExecutePreprocessor.timeout=300", "--output-dir", folder, .. names.Select(SourceOf)]);
        Assert.All(names, name =>
        {
            JsonArray cells = (JsonArray)JsonNode.Parse(File.ReadAllText(Path.Combine(folder, name + ".ipynb")))!["cells"]!;
            JsonArray[] outputs = [.. cells.Where(c => c!["cell_type"]!.GetValue<string>() == "code").Select(c => (JsonArray)c!["outputs"]!)];
            Assert.Equal(NotebookFile.Inside(name).Cells.Count(c => c.IsCode), outputs.Length);
            Assert.All(outputs, cell => Assert.DoesNotContain(cell, output => output!["output_type"]!.GetValue<string>() == "error"));
            string text = string.Concat(outputs.Select(o => o.ToJsonString()));
            Assert.Contains("Plotly.newPlot", text, StringComparison.Ordinal);
            Assert.DoesNotMatch(FromTheNetwork(), text);
        });
    }

    [SkippableFact]
    public async Task LiveServer_RunsAllCellsOnLoopback_AndGoesOnAfterAnInterrupt()
    {
        string program = Outside.Program("jupyter-notebook");
        Install();
        IReadOnlyList<int> processes;
        await using (JupyterServer server = await JupyterServer.StartAsync(program, folder, Places))
        {
            NotebookFile notebook = NotebookFile.Inside("recording-and-bursts");
            foreach (NotebookCell cell in notebook.Cells.Where(c => c.IsCode))
            {
                IReadOnlyList<JsonObject> messages = await server.RunAsync(cell.Source);
                Assert.Equal("ok", messages[^1]["content"]!["status"]!.GetValue<string>());
                Assert.DoesNotMatch(FromTheNetwork(), string.Concat(messages.Select(m => m.ToJsonString())));
            }

            // The server and its kernel listen, and on 127.0.0.1 only.
            processes = Sockets.TreeOf(server.Process.Id);
            IReadOnlyList<(int Process, string Address)> listening = Sockets.Listening(processes);
            Assert.True(listening.Select(l => l.Process).Distinct().Count() >= 2, "neither the server nor the kernel was seen to listen");
            Assert.All(listening, l => Assert.Equal("0100007F", l.Address));

            // A loop that looks at nothing is interrupted once it says that it is inside; the next cell still knows what was declared before.
            await server.RunAsync("var kept = 6;");
            IReadOnlyList<JsonObject> looped = await server.RunAsync(
                "Console.WriteLine(\"inside\");\nwhile (true) { }",
                message => message["msg_type"]!.GetValue<string>() == "stream" ? server.InterruptAsync() : Task.CompletedTask);
            Assert.Equal("error", looped[^1]["content"]!["status"]!.GetValue<string>());
            JsonObject error = Assert.Single(looped, m => m["msg_type"]!.GetValue<string>() == "error");
            Assert.Equal(("interrupt", "The cell was interrupted."), (error["content"]!["ename"]!.GetValue<string>(), error["content"]!["evalue"]!.GetValue<string>()));

            IReadOnlyList<JsonObject> next = await server.RunAsync("kept * 7");
            Assert.Equal("ok", next[^1]["content"]!["status"]!.GetValue<string>());
            JsonObject result = Assert.Single(next, m => m["msg_type"]!.GetValue<string>() == "execute_result");
            Assert.Equal("42", result["content"]!["data"]!["text/plain"]!.GetValue<string>());
        }

        Assert.All(processes, id => Assert.Throws<ArgumentException>(() => Process.GetProcessById(id)));
    }

    // Lines stay where they are, and what does not parse is left alone for the compiler to say what is wrong.
    [Theory]
    [InlineData("while (true) { }")]
    [InlineData("for (;;);")]
    [InlineData("do\n{\n    x++;\n}\nwhile (true);")]
    [InlineData("foreach (var (a, b) in pairs)\n    foreach (var c in a)\n        Use(b, c);")]
    public void Interruptible_Loop_LooksAtTheTokenAndKeepsItsLines(string code)
    {
        string rewritten = Interruptible.Of(code);
        Assert.Equal(Regex.Count(code, @"\b(while|for|foreach)\b"), Regex.Count(rewritten, "ThrowIfCancellationRequested"));
        Assert.Equal(code.Count(c => c == '\n'), rewritten.Count(c => c == '\n'));
        Assert.Equal("while (true {", Interruptible.Of("while (true {"));
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private Dictionary<string, string> Places => new() { ["JUPYTER_PATH"] = Path.Combine(folder, "share", "jupyter"), ["HOME"] = folder, ["JUPYTER_RUNTIME_DIR"] = Path.Combine(folder, "runtime") };

    private void Install() => KernelInstaller.Install([.. NotebookRunner.OwnCommand(), "jupyter", "kernel", "--data", Path.Combine(folder, "data")], folder);

    private static string SourceOf(string name) => Path.Combine(Outside.Root, "notebooks", name + ".ipynb");

    // A script, link, image or style that a browser would fetch; the text of plotly.js itself names addresses that it does not.
    [GeneratedRegex("<(script|link|img|iframe)[^>]*(src|href)=\\\\*[\"']?\\s*(https?:)?//", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex FromTheNetwork();

    private async Task RunAsync(string program, IReadOnlyList<string> arguments)
    {
        ProcessStartInfo start = new(program) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        foreach ((string name, string value) in Places)
        {
            start.Environment[name] = value;
        }

        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, await errors);
    }
}
