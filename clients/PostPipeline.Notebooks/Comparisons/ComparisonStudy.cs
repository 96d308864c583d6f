using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Preparing;

namespace PostPipeline.Notebooks.Comparisons;

/// <summary>The comparison of pipelines, for a cell.</summary>
public static class ComparisonStudy
{
    /// <summary>Reads a brief.</summary>
    /// <param name="path">A brief, YAML; empty for the invented production of the demonstration.</param>
    public static Brief Brief(string path = "")
    {
        Brief brief = path.Length == 0 ? Demo.Brief() : BriefReader.ReadFile(path);
        Output.Note("Seed", brief.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture));
        return brief;
    }

    /// <summary>Makes the calls behind a brief; all that follows is computed without calls.</summary>
    /// <param name="brief">The brief.</param>
    public static async Task<StudyModel> PrepareAsync(Brief brief) =>
        new(await new Preparation(await Suite.ClientsAsync().ConfigureAwait(false), Suite.Learning).PrepareAsync(brief, cancellation: Output.Stop).ConfigureAwait(false));

    /// <summary>
    /// Compares the brief's pipelines on the same draws, without what takes a hundred evaluations more;
    /// <see cref="ComparisonView.Complete"/> adds it.
    /// </summary>
    /// <param name="model">What was prepared.</param>
    /// <param name="moves">What is moved against the brief.</param>
    /// <param name="draws">How many draws.</param>
    public static ComparisonView Compare(StudyModel model, ComparisonMoves moves, int draws = Studies.Outcomes.Compare.UsualDraws)
    {
        Brief brief = model.Study.Brief;
        StudyModel asked = moves.Confidence is double confidence && confidence != brief.Confidence
            ? new(model.Study with { Brief = brief with { Confidence = confidence } })
            : model;
        return new(Studies.Outcomes.Compare.Quick(asked, draws, moves.Changes(brief), Output.Threads, Output.Stop));
    }
}
