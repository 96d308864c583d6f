using System.Text.RegularExpressions;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Handouts;
using PostPipeline.Notebooks.Live;
using PostPipeline.Notebooks.Tests.Support;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>Exercise sheets and their keys: drawn from a seed, and answered by the states that the sheet asks for.</summary>
public sealed partial class ExercisesTests
{
    private const int Count = 4;

    // The notebook answers n with its square, so that a key can be held against its sheet by arithmetic.
    [Fact]
    public async Task Sheet_FromASeed_IsRepeatableAndItsKeyAnswersItsOwnStates()
    {
        NotebookFile notebook = TestNotebook.Of(
            ("markdown", "# What is the square?", []),
            ("code", "var n = Parameter.Number(\"n\", 1, min: 1, max: 12, step: 1, unit: \"clips\", label: \"Clips\");", [NotebookCell.ParametersTag]),
            ("markdown", "## How many pairs of clips are there?", []),
            ("code", "$\"square {n * n}\"", []));
        using LiveNotebook live = await LiveNotebook.OpenAsync(CellSetup.Basic, notebook, new Dictionary<string, string>());
        Handout handout = await Handout.ComputeAsync(live, HandoutGrid.Over(live.Parameters, ["n"], 12));

        string sheet = handout.Exercises(7, Count, withKey: false);
        string key = handout.Exercises(7, Count, withKey: true);
        Assert.Equal(sheet, handout.Exercises(7, Count, withKey: false));
        Assert.NotEqual(Asked(sheet), Asked(handout.Exercises(8, Count, withKey: false)));
        Assert.Equal(Count, Asked(sheet).Distinct().Count());
        Assert.Equal(Asked(sheet), Asked(key));
        Assert.Equal(Asked(sheet).Select(n => n * n), Answer().Matches(key).Select(m => int.Parse(m.Groups[1].Value)));
        Assert.Empty(Answer().Matches(sheet));
        Assert.Equal(Count, sheet.Split("How many pairs of clips are there?").Length - 1);
    }

    private static int[] Asked(string page) => [.. State().Matches(page).Select(m => int.Parse(m.Groups[1].Value))];

    [GeneratedRegex("Set Clips = ([0-9]+) clips")]
    private static partial Regex State();

    [GeneratedRegex("square ([0-9]+)")]
    private static partial Regex Answer();
}
