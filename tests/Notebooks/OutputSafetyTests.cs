using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Notebooks.Runs;
using PostPipeline.Notebooks.Tests.Support;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>Names from outside do nothing in a page, a chart or an exported table.</summary>
public sealed class OutputSafetyTests
{
    private const string Hostile = "<img src=x onerror=alert(1)>";

    [Fact]
    public void Page_HostileNamesEverywhere_HoldsThemAsTextOnly()
    {
        Figure strip = Chart.TimecodeStrip(Hostile, [new(Hostile, Hostile, 0, 10, Hostile, Hostile)]);
        NotebookFile notebook = TestNotebook.Of(("markdown", $"# {Hostile}\n[a](javascript:alert(1)) ![b](https://example.org/b.png)", []), ("code", $"// {Hostile}</script>", []));
        ExecutedCell cell = new(notebook.Cells[1], 1, [
            new CellOutput.Value(Renderer.ToBundle(strip), true),
            new CellOutput.Value(Renderer.ToBundle(new NumberTable(Hostile, [Hostile], [[Hostile], ["</script><script>alert(2)</script>"]])), false),
            new CellOutput.Value(Renderer.ToBundle(new Caution(Hostile)), false),
            new CellOutput.Value(Renderer.ToBundle(new Derivation(Hostile, Hostile, Hostile, Hostile, [])), false),
            new CellOutput.Value(Renderer.ToBundle(new Markdown(Hostile)), false),
            new CellOutput.Text("stdout", Hostile),
            new CellOutput.Error(Hostile, Hostile, 1, [Hostile]),
        ]);
        string html = new RunResult(notebook, [cell], new([(Hostile, Hostile)], [(Hostile, Hostile)], Hostile)).ToHtml();
        Assert.DoesNotContain("<img", html[..html.IndexOf("<script>", StringComparison.Ordinal)], StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("javascript:", html[..html.IndexOf("<script>", StringComparison.Ordinal)], StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("alert(2)</script>", html, StringComparison.Ordinal);
        Assert.Contains("default-src &#39;none&#39;; script-src &#39;sha256-", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Chart_TemplatesAndTagsInNames_AreEscaped()
    {
        string json = Chart.Bars("t", new("Rate", "MB/s"), [new("<b>x</b>%{y}$a$", "s", 1)]).ToJson();
        Assert.Contains("&lt;b&gt;x&lt;/b&gt;%&#123;y}&#36;a&#36;", json, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>", json, StringComparison.Ordinal);
    }

    // The four characters that spreadsheets take for the start of a formula, and the two that hide one
    // (OWASP, "CSV Injection").
    [Theory]
    [InlineData("=1+1", "\"'=1+1\"")]
    [InlineData("+1", "\"'+1\"")]
    [InlineData("-1", "\"'-1\"")]
    [InlineData("@SUM(A1)", "\"'@SUM(A1)\"")]
    [InlineData("\t=1", "\"'\t=1\"")]
    [InlineData("a,\"b\"", "\"a,\"\"b\"\"\"")]
    [InlineData("plain", "plain")]
    public void Csv_TextThatASpreadsheetWouldRun_IsQuoted(string text, string expected) =>
        Assert.Equal($"Name\r\n{expected}\r\n", new NumberTable("t", ["Name"], [[text]]).ToCsv());

    [Fact]
    public void Csv_NegativeNumber_StaysANumber() =>
        Assert.Equal("Value\r\n-1.5\r\n", new NumberTable("t", ["Value"], [[-1.5]]).ToCsv());

    [Fact]
    public void Chart_EveryAxis_CarriesAUnit()
    {
        Assert.Throws<ArgumentException>(() => new Axis("Rate", " "));
        Assert.Throws<ArgumentException>(() => new Axis("", "MB/s"));
        Assert.Equal("Rate (MB/s)", new Axis("Rate", "MB/s").Title);
    }

    // Exact numbers are read in groups of three; the two sides of a rate, and short or broken numbers, stay as they are.
    [Theory]
    [InlineData("1061683200 B/s", "1,061,683,200 B/s")]
    [InlineData("450000000 × 17/20 = 382500000, not shown", "450,000,000 × 17/20 = 382,500,000, not shown")]
    [InlineData("24000/1001 × 4423680", "24000/1001 × 4,423,680")]
    [InlineData("2160 × 12345.678", "2160 × 12345.678")]
    [InlineData("K07123456", "K07123456")]
    public void Derivation_LongNumbers_AreGrouped(string formula, string expected) =>
        Assert.Contains($"<code>{expected}</code>", System.Net.WebUtility.HtmlDecode(Renderer.ToBundle(new Derivation("a", "1", formula, string.Empty, []))[MimeBundle.Html]!), StringComparison.Ordinal);
}
