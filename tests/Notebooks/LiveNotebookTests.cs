using System.Globalization;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Live;
using PostPipeline.Notebooks.Parameters;
using PostPipeline.Notebooks.Tests.Support;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>Cells compiled once and run again, without a browser.</summary>
[Collection(Alone.Name)]
public sealed class LiveNotebookTests
{
    private static int Moves => Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 10_000 : 500;

    [Fact]
    public async Task Set_ManyMoves_AddsNoAssemblyAndKeepsTheWorkingSet()
    {
        using LiveNotebook live = await OpenAsync();
        for (int i = 0; i < 200; i++)
        {
            await MoveAsync(live, i);
        }

        (string[] assemblies, long before) = (Loaded(), WorkingSet());
        Assert.NotEmpty(assemblies);
        for (int i = 0; i < Moves; i++)
        {
            await MoveAsync(live, i);
        }

        Assert.Equal([], Loaded().Except(assemblies));
        Assert.True(WorkingSet() - before < 50_000_000, $"the working set grew by {WorkingSet() - before} bytes in {Moves} moves");
        Assert.Contains(((Moves - 1) % 90).ToString(CultureInfo.InvariantCulture), live.ShownBy(3), StringComparison.Ordinal);
    }

    // What a cell is compiled into lives in memory, without a file. An assembly of the program's own folder may be loaded
    // at any time, once, when the runtime optimises a method that mentions it.
    private static string[] Loaded() => [.. AppDomain.CurrentDomain.GetAssemblies().Where(a => a.IsDynamic || a.Location.Length == 0).Select(a => a.FullName ?? "?")];

    [Fact]
    public async Task Set_AParameter_RunsFromTheFirstCellThatReadsIt()
    {
        using LiveNotebook live = await OpenAsync();
        List<int> ran = [];
        void Tell(LiveEvent happened)
        {
            if (happened is LiveEvent.Shown shown)
            {
                ran.Add(shown.Cell);
            }
        }

        Assert.True(await live.SetAsync(new Dictionary<string, string> { ["b"] = "7" }, Tell));
        Assert.Equal([2, 3], ran);
        Assert.Contains("10 + 7", live.ShownBy(2), StringComparison.Ordinal);

        ran.Clear();
        Assert.True(await live.SetAsync(new Dictionary<string, string> { ["a"] = "11" }, Tell));
        Assert.Equal([1, 2, 3], ran);
        Assert.Contains("11 + 7", live.ShownBy(2), StringComparison.Ordinal);

        ran.Clear();
        Assert.True(await live.SetAsync(new Dictionary<string, string> { ["a"] = "11" }, Tell));
        Assert.Empty(ran);
    }

    [Fact]
    public async Task Set_ValueThatIsNotAllowed_ChangesNothing()
    {
        using LiveNotebook live = await OpenAsync();
        await Assert.ThrowsAsync<ParameterException>(() => live.SetAsync(new Dictionary<string, string> { ["a"] = "50", ["b"] = "1000" }, _ => { }));
        Assert.Equal("10", live.Parameters.Single(p => p.Name == "a").Value);
        Assert.Contains("10 + 5", live.ShownBy(2), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Set_NewerChange_CancelsTheOlder()
    {
        NotebookFile notebook = TestNotebook.Of(
            ("code", "var a = Parameter.Number(\"a\", 0, min: 0, max: 100);", [NotebookCell.ParametersTag]),
            ("code", "if (a == 1) { await Task.Delay(60_000, Stop); }\n$\"a is {a}\"", []));
        using LiveNotebook live = await LiveNotebook.OpenAsync(CellSetup.Basic, notebook, new Dictionary<string, string>());
        TaskCompletionSource busy = new();
        Task<bool> slow = live.SetAsync(new Dictionary<string, string> { ["a"] = "1" }, happened =>
        {
            if (happened is LiveEvent.Busy)
            {
                busy.TrySetResult();
            }
        });
        await busy.Task;
        Assert.True(await live.SetAsync(new Dictionary<string, string> { ["a"] = "2" }, _ => { }));
        Assert.False(await slow);
        Assert.Contains("a is 2", live.ShownBy(1), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Set_CellThrows_ShowsCellAndLineAndRecovers()
    {
        NotebookFile notebook = TestNotebook.Of(
            ("code", "var a = Parameter.Number(\"a\", 1, min: 0, max: 100);", [NotebookCell.ParametersTag]),
            ("code", "int one = 1;\nint quotient = one / (int)a;\nquotient.ToString()", []),
            ("code", "$\"then {quotient}\"", []));
        using LiveNotebook live = await LiveNotebook.OpenAsync(CellSetup.Basic, notebook, new Dictionary<string, string>());
        await live.SetAsync(new Dictionary<string, string> { ["a"] = "0" }, _ => { });
        Assert.Contains("Line 2: Attempted to divide by zero.", live.ShownBy(1), StringComparison.Ordinal);
        Assert.Contains("Not run", live.ShownBy(2), StringComparison.Ordinal);
        await live.SetAsync(new Dictionary<string, string> { ["a"] = "1" }, _ => { });
        Assert.Contains("then 1", live.ShownBy(2), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Open_CellDoesNotCompile_NamesCellAndLine()
    {
        NotebookFile notebook = TestNotebook.OfCode("int a = 1;", "int b = a;\nint c = \"\";");
        ScriptChainException problem = await Assert.ThrowsAsync<ScriptChainException>(() => LiveNotebook.OpenAsync(CellSetup.Basic, notebook, new Dictionary<string, string>()));
        Assert.StartsWith("cell 2, line 2: Cannot implicitly convert", problem.Message, StringComparison.Ordinal);
    }

    private static Task<LiveNotebook> OpenAsync() => LiveNotebook.OpenAsync(
        CellSetup.Basic,
        NotebookFile.Parse("""
            {"nbformat":4,"metadata":{},"cells":[
             {"cell_type":"code","metadata":{"tags":["parameters"]},"source":"var a = Parameter.Number(\"a\", 10, min: 0, max: 90);\nvar b = Parameter.Number(\"b\", 5, min: 0, max: 90);"},
             {"cell_type":"code","metadata":{"postpipeline":{"reads":["a"]}},"source":"var left = a;"},
             {"cell_type":"code","metadata":{"postpipeline":{"reads":["a","b"]}},"source":"$\"{left} + {b}\""},
             {"cell_type":"code","metadata":{"postpipeline":{"reads":["a","b"]}},"source":"Chart.Band(\"t\", new(\"x\", \"s\"), new(\"y\", \"TB\"), [BandSeries.Line(\"line\", [(0, left), (1, b)])])"}]}
            """, "live"),
        new Dictionary<string, string>());

    private static Task<bool> MoveAsync(LiveNotebook live, int i) =>
        live.SetAsync(new Dictionary<string, string> { ["a"] = (i % 90).ToString(CultureInfo.InvariantCulture), ["b"] = (i % 7).ToString(CultureInfo.InvariantCulture) }, _ => { });

    private static long WorkingSet()
    {
        GC.Collect();
        GC.WaitForPendingFinalizers();
        GC.Collect();
        return Environment.WorkingSet;
    }
}
