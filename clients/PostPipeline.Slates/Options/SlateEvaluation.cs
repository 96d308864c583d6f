using PostPipeline.Slates.Files;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Preparing;

namespace PostPipeline.Slates.Options;

/// <summary>
/// Every project of a slate evaluated by the studies on the slate's own farm and tiers. What projects share (errors of
/// predictions, the farm's availability, named factors) is drawn once for all; the rest of each project from its own seed.
/// </summary>
public sealed class SlateEvaluation
{
    /// <summary>Draws where nothing else is asked for.</summary>
    public const int UsualDraws = 300;

    private SlateEvaluation(Slate slate, IReadOnlyList<EvaluatedProject> projects, int draws) => (Slate, Projects, Draws) = (slate, projects, draws);

    /// <summary>The same slate on the same draws with changes to one project; the others stay as they were evaluated.</summary>
    /// <param name="place">The project, from 0.</param>
    /// <param name="changes">What-if changes of its inputs.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    /// <exception cref="BriefException">The project has no pipeline that it may take then.</exception>
    public SlateEvaluation With(int place, IReadOnlyList<Change> changes, int threads = 1, CancellationToken cancellation = default) =>
        With(place, Evaluated(Slate, Projects[place].Entry, Projects[place].Model, Draws, changes, threads, cancellation).Build());

    /// <summary>
    /// The same after something happened to one project: it keeps the pipelines that it had to choose from, and those that a
    /// gate now speaks against say so (<see cref="EvaluatedOption.Fails"/>).
    /// </summary>
    /// <param name="place">The project, from 0.</param>
    /// <param name="changes">What happened, as changes of its inputs.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public SlateEvaluation After(int place, IReadOnlyList<Change> changes, int threads = 1, CancellationToken cancellation = default) =>
        With(place, Evaluated(Slate, Projects[place].Entry, Projects[place].Model, Draws, changes, threads, cancellation).Build([.. Projects[place].Options.Select(o => o.Pipeline)]));

    /// <summary>The slate.</summary>
    public Slate Slate { get; }

    /// <summary>Its projects, in order.</summary>
    public IReadOnlyList<EvaluatedProject> Projects { get; }

    /// <summary>Draws.</summary>
    public int Draws { get; }

    /// <summary>Projects whose crew would have too little rest between the last card and the next call: the shoot's own matter, which no plan of the slate mends.</summary>
    public IReadOnlyList<string> ShortRest =>
        [.. Projects.SelectMany(p => p.Options[0].Outcome.Gates.Where(g => g.Name == "rest" && g.State == GateState.Fails).Select(g => $"{p.Entry.Name}: {g.Says}"))];

    /// <summary>The unit of its money, said with "invented" where any price is.</summary>
    public string MoneyUnit => $"{Slate.Currency}{(Projects.SelectMany(p => p.Options).Any(o => o.Outcome.Costs.Any(c => c.PriceInvented)) ? ", invented prices" : string.Empty)}";

    /// <summary>Makes the calls behind every brief; all that follows is computed without calls.</summary>
    /// <param name="slate">The slate.</param>
    /// <param name="preparation">How calls are made.</param>
    /// <param name="progress">Told which project is prepared.</param>
    /// <param name="cancellation">Ends the calls.</param>
    public static async Task<IReadOnlyList<StudyModel>> PrepareAsync(
        Slate slate, Preparation preparation, IProgress<string>? progress = null, CancellationToken cancellation = default)
    {
        List<StudyModel> models = [];
        foreach (SlateEntry entry in slate.Projects)
        {
            progress?.Report($"{entry.Name}: rates, takes, offload, render times, rehearsal, farm");
            models.Add(new(await preparation.PrepareAsync(OnTheSlate(slate, entry.Brief), cancellation: cancellation).ConfigureAwait(false)));
        }

        return models;
    }

    /// <summary>Evaluates the projects.</summary>
    /// <param name="slate">The slate.</param>
    /// <param name="models">A study a project.</param>
    /// <param name="draws">How many draws.</param>
    /// <param name="changes">What-if changes by project; null for none.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    /// <exception cref="BriefException">A project has no pipeline that it may take.</exception>
    public static SlateEvaluation Of(
        Slate slate,
        IReadOnlyList<StudyModel> models,
        int draws = UsualDraws,
        IReadOnlyDictionary<string, IReadOnlyList<Change>>? changes = null,
        int threads = 1,
        CancellationToken cancellation = default)
    {
        return new(slate, [.. models.Select((m, i) => Evaluated(slate, slate.Projects[i], m, draws, changes?.GetValueOrDefault(slate.Projects[i].Name) ?? [], threads, cancellation).Build())], draws);
    }

    /// <summary>A brief on the slate's farm and tiers instead of its own.</summary>
    /// <param name="slate">The slate.</param>
    /// <param name="brief">The brief.</param>
    public static Brief OnTheSlate(Slate slate, Brief brief) => brief with
    {
        Farm = slate.Farm,
        Storage = brief.Storage with { Online = slate.Storage.Online, Nearline = slate.Storage.Nearline },
        Inputs = [.. brief.Inputs.Select(i => slate.FarmInputs.FirstOrDefault(f => f.Key == i.Key) ?? i)],
    };

    private SlateEvaluation With(int place, EvaluatedProject project) => new(Slate, [.. Projects.Select((p, i) => i == place ? project : p)], Draws);

    private static OptionBuilder Evaluated(
        Slate slate, SlateEntry entry, StudyModel model, int draws, IReadOnlyList<Change> changes, int threads, CancellationToken cancellation)
    {
        long own = slate.Seed ^ ((long)DrawSet.NameHash(entry.Name) << 16);
        HashSet<string> shared = [.. slate.Projects.SelectMany(p => p.Brief.Inputs.Select(x => x.Factor).Distinct()).Where(f => f.Length > 0).GroupBy(f => f).Where(g => g.Count() > 1).Select(g => "factor " + g.Key)];
        bool Shared(string name) => name.StartsWith("predicted.", StringComparison.Ordinal) || name is "farm.available" or "farm.failures" || shared.Contains(name);
        DrawSet set = DrawSet.Sample(model.Inputs, draws, own, threads, name => Shared(name) ? slate.Seed : own);
        Evaluation evaluation = model.Evaluate(set, changes, threads, detail: true, cancellation);
        return new OptionBuilder(slate, entry, model, set, evaluation, changes);
    }
}
