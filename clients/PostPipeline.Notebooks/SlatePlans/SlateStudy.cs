using System.Globalization;
using PostPipeline.Client;
using PostPipeline.Slates;
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
    /// <param name="path">A slate, YAML, with its briefs beside it; empty for the invented one of the demonstration.</param>
    public static async Task<SlateStudy> PrepareAsync(string path = "") => await PrepareAsync(await Suite.ClientsAsync().ConfigureAwait(false), path).ConfigureAwait(false);

    /// <summary>The same over given clients.</summary>
    internal static async Task<SlateStudy> PrepareAsync(SuiteClients clients, string path = "")
    {
        Slate slate = path.Length == 0 ? DemoSlate.Read() : SlateReader.ReadFile(path);
        Output.Note("Seed", slate.Seed.ToString(CultureInfo.InvariantCulture));
        return new(slate, await SlateEvaluation.PrepareAsync(slate, new Preparation(clients), cancellation: Output.Stop).ConfigureAwait(false));
    }

    /// <summary>What is due of everything that the projects share, before anything is planned.</summary>
    /// <param name="draws">How many draws of the uncertain inputs.</param>
    /// <param name="level">P50, P80 or P90, the level that durations are planned at; anything else for the slate's own.</param>
    public SlateDemand Evaluate(int draws, string level = "") => new(
        Evaluate(draws, changes: null),
        () => Evaluate(draws, slate.Projects.ToDictionary(p => p.Name, IReadOnlyList<Change> (_) => [Change.Fix("edit.lock_slip", 0)])),
        level is "P50" or "P80" or "P90" ? level : slate.Level);

    private SlateEvaluation Evaluate(int draws, IReadOnlyDictionary<string, IReadOnlyList<Change>>? changes) =>
        SlateEvaluation.Of(slate, models, draws, changes, Environment.ProcessorCount, Output.Stop);
}
