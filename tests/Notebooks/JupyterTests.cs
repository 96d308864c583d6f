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
    // Every notebook runs under nbconvert; the server, which drives the same kernel, shows two of them, four in the long tier.
    private static readonly string[] Live = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1"
        ? ["recording-and-bursts", "off-speed-labels", "offload-and-storage", "conform-and-pull"]
        : ["recording-and-bursts", "off-speed-labels"];

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-jupyter-").FullName;

    [SkippableFact]
    public async Task Nbconvert_ExecutesNotebooks_WithChartsThatNeedNoNetwork()
    {
        string nbconvert = Outside.Program("jupyter-nbconvert");
        Install();

        // The labels of off-speed clips are executed likewise, and looked at, by the browser's tests.
        string[] names = [.. NotebookFile.NamesInside.Where(name => name != "off-speed-labels")];
        await RunAsync(nbconvert, ["--to", "notebook", "--execute", "--ExecutePreprocessor.timeout=300", "--output-dir", folder, .. names.Select(Quick)]);
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
    public async Task LiveServer_RunsAllCellsOfNotebooksOnLoopback_AndGoesOnAfterAnInterrupt()
    {
        string program = Outside.Program("jupyter-notebook");
        Install();
        HashSet<int> processes = [];
        await using (JupyterServer server = await JupyterServer.StartAsync(program, folder, Places))
        {
            foreach (string name in Live)
            {
                await using JupyterSession session = await server.OpenAsync();
                await RunAllCellsAsync(session, name);

                // The server and its kernel listen, and on 127.0.0.1 only.
                processes.UnionWith(Sockets.TreeOf(server.Process.Id));
                IReadOnlyList<(int Process, string Address)> listening = Sockets.Listening(processes);
                Assert.True(listening.Select(l => l.Process).Distinct().Count() >= 2, "neither the server nor the kernel was seen to listen");
                Assert.All(listening, l => Assert.Equal("0100007F", l.Address));
                if (name == "recording-and-bursts")
                {
                    await InterruptALoopAsync(session);
                }
            }
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

    // A copy that asks for the fewest draws and the shortest search that the notebook allows: its cells are the same.
    private string Quick(string name)
    {
        string copy = Path.Combine(Directory.CreateDirectory(Path.Combine(folder, "quick")).FullName, name + ".ipynb");
        string text = File.ReadAllText(Path.Combine(Outside.Root, "notebooks", name + ".ipynb"));
        File.WriteAllText(copy, DrawsOrSeconds().Replace(text, "$1$3$2"));
        return copy;
    }

    // A script, link, image or style that a browser would fetch; the text of plotly.js itself names addresses that it does not.
    [GeneratedRegex("<(script|link|img|iframe)[^>]*(src|href)=\\\\*[\"']?\\s*(https?:)?//", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex FromTheNetwork();

    [GeneratedRegex("""(Parameter\.Number\(\\"(?:draws|seconds)\\", )\d+(, min: (\d+))""", RegexOptions.CultureInvariant)]
    private static partial Regex DrawsOrSeconds();

    private static async Task RunAllCellsAsync(JupyterSession session, string name)
    {
        System.Text.StringBuilder published = new();
        foreach (NotebookCell cell in NotebookFile.Inside(name).Cells.Where(c => c.IsCode))
        {
            IReadOnlyList<JsonObject> messages = await session.RunAsync(cell.Source);
            Assert.Equal("ok", messages[^1]["content"]!["status"]!.GetValue<string>());
            published.AppendJoin('\n', messages.Select(m => m.ToJsonString()));
        }

        Assert.Contains("Plotly.newPlot", published.ToString(), StringComparison.Ordinal);
        Assert.DoesNotMatch(FromTheNetwork(), published.ToString());
    }

    // A loop that looks at nothing is interrupted once it says that it is inside; the next cell still knows what was declared before.
    private static async Task InterruptALoopAsync(JupyterSession session)
    {
        await session.RunAsync("var kept = 6;");
        IReadOnlyList<JsonObject> looped = await session.RunAsync(
            "Console.WriteLine(\"inside\");\nwhile (true) { }",
            message => message["msg_type"]!.GetValue<string>() == "stream" ? session.InterruptAsync() : Task.CompletedTask);
        Assert.Equal("error", looped[^1]["content"]!["status"]!.GetValue<string>());
        JsonObject error = Assert.Single(looped, m => m["msg_type"]!.GetValue<string>() == "error");
        Assert.Equal(("interrupt", "The cell was interrupted."), (error["content"]!["ename"]!.GetValue<string>(), error["content"]!["evalue"]!.GetValue<string>()));

        IReadOnlyList<JsonObject> next = await session.RunAsync("kept * 7");
        Assert.Equal("ok", next[^1]["content"]!["status"]!.GetValue<string>());
        JsonObject result = Assert.Single(next, m => m["msg_type"]!.GetValue<string>() == "execute_result");
        Assert.Equal("42", result["content"]!["data"]!["text/plain"]!.GetValue<string>());
    }

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
