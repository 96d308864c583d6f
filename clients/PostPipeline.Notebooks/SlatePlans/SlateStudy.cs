using System.Globalization;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Studies;
using PostPipeline.Studies.Preparing;

namespace PostPipeline.Notebooks.SlatePlans;

/// <summary>A slate of projects, for a cell.</summary>
public sealed class SlateStudy
{
    private readonly Slate slate;
    private readonly IReadOnlyList<StudyModel> models;

    private SlateStudy(Slate slate, IReadOnlyList<StudyModel> models) => (this.slate, this.models) = (slate, models);

    /// <summary>The slate.</summary>
    public Slate Slate => slate;

    /// <summary>Reads a slate and makes the calls behind its briefs; all that follows is computed without calls.</summary>
    /// <param name="path">A slate, YAML, with its briefs beside it.</param>
    public static async Task<SlateStudy> PrepareAsync(string path)
    {
        Slate slate = SlateReader.ReadFile(path);
        Output.Note("Seed", slate.Seed.ToString(CultureInfo.InvariantCulture));
        Preparation preparation = new(await Suite.ClientsAsync().ConfigureAwait(false));
        return new(slate, await SlateEvaluation.PrepareAsync(slate, preparation, cancellation: Output.Stop).ConfigureAwait(false));
    }

    /// <summary>What is due of everything that the projects share, before anything is planned.</summary>
    /// <param name="draws">How many draws of the uncertain inputs.</param>
    /// <param name="level">P50, P80 or P90, the level that durations are planned at; anything else for the slate's own.</param>
    public SlateDemand Evaluate(int draws, string level = "") => new(
        SlateEvaluation.Of(slate, models, draws, threads: Environment.ProcessorCount, cancellation: Output.Stop),
        level is "P50" or "P80" or "P90" ? level : slate.Level);
}
