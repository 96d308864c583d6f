using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Runs;
using PostPipeline.Notebooks.Tests.Support;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>Runs in a process of their own, with everything that can go wrong in somebody's cell.</summary>
public sealed class HeadlessRunTests
{
    [Fact]
    public async Task Run_WithParameters_KeepsOrderAndTypesAndRecordsInputs()
    {
        NotebookFile notebook = TestNotebook.Of(
            ("code", "var ratio = Parameter.Number(\"ratio\", 25, min: 5, max: 200, step: 1, unit: \":1\");\nvar due = Parameter.Date(\"due\", \"2027-03-01\", \"2027-01-01\", \"2027-12-31\");", ["parameters"]),
            ("code", "Console.WriteLine(\"first\"); Show(\"second\"); Console.WriteLine(\"third\"); display(\"fourth\"); Console.Error.WriteLine(\"fifth\"); $\"{ratio * 2} {due:yyyy-MM-dd}\"", []));
        RunResult run = await TestNotebook.RunAsync(notebook, null, ("ratio", "40"), ("due", "2027-04-02"));
        Assert.Null(run.Record.Problem);
        Assert.Equal([("ratio", "40 :1"), ("due", "2027-04-02")], run.Record.Inputs);
        string[] order = [.. run.Cells[1].Outputs.Select(output => output switch
        {
            CellOutput.Text text => text.Name + ":" + text.Content.Trim(),
            CellOutput.Value value => (value.IsResult ? "result:" : "shown:") + value.Bundle[MimeBundle.PlainText],
            _ => "error",
        })];
        Assert.Equal(["stdout:first", "shown:second", "stdout:third", "shown:fourth", "stderr:fifth", "result:80 2027-04-02"], order);
        Assert.Equal(["start", "cell 1", "cell 2"], run.Times.Select(time => time.Part));
    }

    [Fact]
    public async Task Run_CellThrows_NamesCellAndLineAndKeepsWhatWasThere()
    {
        RunResult run = await TestNotebook.RunAsync(TestNotebook.OfCode("\"kept\"", "int a = 1;\nint b = 0;\nConsole.WriteLine(a / b);", "\"never\""));
        Assert.Equal("Cell 2, line 3: Attempted to divide by zero.", run.Record.Problem);
        Assert.Equal(2, run.Cells.Count);
        string html = run.ToHtml();
        Assert.Contains("This report is not complete.", html, StringComparison.Ordinal);
        Assert.Contains("kept", html, StringComparison.Ordinal);
        Assert.Contains("This cell was not run.", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Run_LoopsForEver_IsEndedWithAPartialReport()
    {
        RunResult run = await TestNotebook.RunAsync(TestNotebook.OfCode("\"kept\"", "Console.WriteLine(\"on it\"); while (true) { Thread.Sleep(50); }"), TimeSpan.FromSeconds(20));
        Assert.Equal("No end within 20 s; the run was stopped while cell 2 ran.", run.Record.Problem);
        Assert.Equal("on it", Assert.IsType<CellOutput.Text>(run.Cells[1].Outputs[0]).Content.Trim());
    }

    [Fact]
    public async Task Run_PrintsWithoutEnd_IsCutWithANotice()
    {
        RunResult run = await TestNotebook.RunAsync(TestNotebook.OfCode("for (int i = 0; i < 1000; i++) Console.Write(new string('x', 100_000));", "\"after\""));
        Assert.Null(run.Record.Problem);
        Assert.Equal(200_000, run.Cells[0].Outputs.OfType<CellOutput.Text>().Where(t => t.Name == "stdout").Sum(t => t.Content.Length));
        Assert.Contains("Text was cut here", Assert.IsType<CellOutput.Text>(run.Cells[0].Outputs[^1]).Content, StringComparison.Ordinal);
        Assert.Equal(2, run.Cells.Count);
    }

    [Fact]
    public async Task Run_StartsAProcessAndExits_SaysSoAndLeavesNeither()
    {
        RunResult run = await TestNotebook.RunAsync(TestNotebook.OfCode("System.Diagnostics.Process.Start(\"sleep\", \"600\").Id.ToString()", "Environment.Exit(7);"));
        Assert.Equal("The process ended by itself (exit code 7) while cell 2 ran.", run.Record.Problem);
        Assert.Equal(2, run.Cells.Count);
        int id = int.Parse(((CellOutput.Value)run.Cells[0].Outputs[0]).Bundle[MimeBundle.PlainText]!, System.Globalization.CultureInfo.InvariantCulture);
        for (int i = 0; i < 50 && Directory.Exists($"/proc/{id}") && !File.ReadAllText($"/proc/{id}/stat").Contains(") Z ", StringComparison.Ordinal); i++)
        {
            await Task.Delay(100);
        }

        Assert.True(!Directory.Exists($"/proc/{id}") || File.ReadAllText($"/proc/{id}/stat").Contains(") Z ", StringComparison.Ordinal), "the child is still running");
    }

    [Fact]
    public async Task Report_EndsWithInputsSeedDigestVersionsAndNotices()
    {
        NotebookFile notebook = TestNotebook.Of(("code", "var seed = Parameter.Number(\"seed\", 7, min: 1, max: 1000);\nvar a = Parameter.Number(\"a\", 1, min: 0, max: 9);", ["parameters"]), ("code", "a", []));
        RunResult one = await TestNotebook.RunAsync(notebook, null, ("seed", "11"));
        RunResult other = await TestNotebook.RunAsync(notebook, null, ("seed", "11"), ("a", "2"));
        Assert.Equal(("Seed", "11"), one.Record.Marks[0]);
        Assert.StartsWith("Digest of the inputs", one.Record.Marks[^1].Name, StringComparison.Ordinal);
        Assert.Matches("^[0-9a-f]{16}$", one.Record.Marks[^1].Value);
        Assert.NotEqual(one.Record.Marks[^1].Value, other.Record.Marks[^1].Value);
        string end = one.ToHtml().Split("id=\"made\"")[1];
        Assert.All(["Inputs", "Seed and digests", "<td>11</td>", one.Record.Marks[^1].Value, "Versions", "PostPipeline", "Digest of the notebook", "Third-party notices", "plotly.js", "MIT"], text => Assert.Contains(text, end, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Run_StoppedFromOutside_LeavesNoProcess()
    {
        using CancellationTokenSource stop = new();
        NotebookFile file = TestNotebook.OfCode("System.Diagnostics.Process.GetCurrentProcess().Id.ToString()", "while (true) { Thread.Sleep(50); }");
        RunOptions options = new(new Dictionary<string, string>(), TimeSpan.FromMinutes(1), (cell, _) =>
        {
            if (cell == 2)
            {
                stop.CancelAfter(200);
            }
        });
        RunResult run = await NotebookRunner.Beside().RunAsync(file, options, stop.Token);
        Assert.Equal("The run was stopped while cell 2 ran.", run.Record.Problem);
        int id = int.Parse(((CellOutput.Value)run.Cells[0].Outputs[0]).Bundle[MimeBundle.PlainText]!, System.Globalization.CultureInfo.InvariantCulture);
        Assert.Throws<ArgumentException>(() => System.Diagnostics.Process.GetProcessById(id));
    }
}
