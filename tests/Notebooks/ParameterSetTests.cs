using PostPipeline.Notebooks.Parameters;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>What a run may ask of a notebook's parameters, and what is refused.</summary>
public sealed class ParameterSetTests
{
    [Theory]
    [InlineData("5", 5)]
    [InlineData("200", 200)]
    [InlineData("12.5", 12.5)]
    public void Number_InRange_IsTaken(string text, double expected)
    {
        using Scope scope = new(("ratio", text));
        Assert.Equal(expected, Parameter.Number("ratio", 25, min: 5, max: 200));
    }

    [Theory]
    [InlineData("4.999")]
    [InlineData("200.001")]
    [InlineData("NaN")]
    [InlineData("Infinity")]
    [InlineData("1e999")]
    [InlineData("")]
    [InlineData("25; Environment.Exit(1)")]
    public void Number_OutOfRangeOrNoNumber_IsRefusedNamingTheAllowed(string text)
    {
        using Scope scope = new(("ratio", text));
        ParameterException problem = Assert.Throws<ParameterException>(() => Parameter.Number("ratio", 25, min: 5, max: 200, unit: ":1"));
        Assert.Equal($"parameter ratio: '{text}' is not allowed; a number from 5 to 200 :1 is", problem.Message);
    }

    [Fact]
    public void Choice_NotInTheList_IsRefusedNamingTheList()
    {
        using Scope scope = new(("mode", "c"));
        ParameterException problem = Assert.Throws<ParameterException>(() => Parameter.Choice("mode", "a", ["a", "b"]));
        Assert.Equal("parameter mode: 'c' is not allowed; one of a, b is", problem.Message);
    }

    [Fact]
    public void Flag_NeitherTrueNorFalse_IsRefused()
    {
        using Scope scope = new(("on", "1"));
        Assert.Throws<ParameterException>(() => Parameter.Flag("on", false));
    }

    [Theory]
    [InlineData("2026-12-31")]
    [InlineData("2028-01-01")]
    [InlineData("01/02/2027")]
    [InlineData("2027-02-30")]
    public void Date_OutOfRangeOrNoDate_IsRefused(string text)
    {
        using Scope scope = new(("due", text));
        Assert.Throws<ParameterException>(() => Parameter.Date("due", "2027-03-01", "2027-01-01", "2027-12-31"));
    }

    // Text is a value: what looks like code stays what it is, and a second line is none.
    [Theory]
    [InlineData("wall, \"a, b\"")]
    [InlineData("\"; Environment.Exit(1); //")]
    [InlineData("")]
    public void Text_OneLine_IsTakenAsItIs(string text)
    {
        using Scope scope = new(("column", text));
        Assert.Equal(text, Parameter.Text("column", "seconds"));
        Assert.Equal(text, Assert.Single(ParameterSet.Check(scope.Set.Declared, new Dictionary<string, string> { ["column"] = text })).Value);
    }

    [Fact]
    public void Text_ControlCharactersOrTooLong_IsRefused()
    {
        using Scope scope = new(("column", "a\nb"));
        Assert.Equal("parameter column: it holds a control character; one line of text is allowed", Assert.Throws<ParameterException>(() => Parameter.Text("column")).Message);
        Assert.Contains("allowed are up to 1000", Assert.Throws<ParameterException>(() => new Scope(("column", new string('a', 1_001)))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void RefuseUnknown_NameThatWasNotDeclared_NamesThoseThatWere()
    {
        using Scope scope = new(("rato", "20"));
        _ = Parameter.Number("ratio", 25, min: 5, max: 200);
        ParameterException problem = Assert.Throws<ParameterException>(scope.Set.RefuseUnknown);
        Assert.Equal("parameter rato is not declared in the notebook; allowed are ratio", problem.Message);
    }

    [Fact]
    public void Declare_SameNameTwice_IsRefused()
    {
        using Scope scope = new();
        _ = Parameter.Flag("on", true);
        Assert.Throws<ParameterException>(() => Parameter.Flag("on", true));
    }

    private sealed class Scope : IDisposable
    {
        public Scope(params (string Name, string Value)[] values)
        {
            Set = new(values.ToDictionary(v => v.Name, v => v.Value));
            CellContext.Current = new(_ => { }, Set, CancellationToken.None);
        }

        public ParameterSet Set { get; }

        public void Dispose() => CellContext.Current = null;
    }
}
