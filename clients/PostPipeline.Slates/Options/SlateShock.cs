using PostPipeline.Quantities;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Options;

/// <summary>Something that happens to a slate, from a list of what can be asked for.</summary>
/// <param name="Word">One word for it, as in an option of a command.</param>
/// <param name="Text">The same as a reader sees it.</param>
/// <param name="IsOfAProject">Whether it happens to one project; otherwise to the house.</param>
public sealed record SlateShock(string Word, string Text, bool IsOfAProject = true)
{
    /// <summary>The least that effects can be said to grow by.</summary>
    public const double LeastFactor = 1.01;

    /// <summary>The most that effects can be said to grow by.</summary>
    public const double MostFactor = 20;

    private const int Week = 14;

    /// <summary>A project starts a week later.</summary>
    public static SlateShock Slip { get; } = new("slip", "the shoot slips a week");

    /// <summary>A project records twice the hours: offload, farm, people who see all material, links and storage follow as in its study.</summary>
    public static SlateShock Twice { get; } = new("twice", "twice the material");

    /// <summary>A project shoots with one camera more, which records as much as its others do on average.</summary>
    public static SlateShock Camera { get; } = new("camera", "one camera more");

    /// <summary>
    /// A project's effects grow: more shots by the same hands, so that each version takes longer by as much.
    /// Plates, versions and their storage grow with the shots.
    /// </summary>
    public static SlateShock Effects { get; } = new("effects", "effects grown by half");

    /// <summary>A project is due a week earlier.</summary>
    public static SlateShock Earlier { get; } = new("earlier", "due a week earlier");

    /// <summary>Half of the first class of nodes is lost.</summary>
    public static SlateShock Nodes { get; } = new("nodes", "half of the nodes lost", IsOfAProject: false);

    /// <summary>All that can be asked for.</summary>
    public static IReadOnlyList<SlateShock> All { get; } = [Slip, Twice, Camera, Effects, Earlier, Nodes];

    /// <summary>What is multiplied where nothing else is said: the effects of a project by 1.5.</summary>
    public double UsualFactor => this == Effects ? 1.5 : 1;

    /// <summary>Why it cannot happen to a project; null where it can.</summary>
    /// <param name="evaluation">The slate.</param>
    /// <param name="place">The project, from 0.</param>
    public string? Hindrance(SlateEvaluation evaluation, int place) => this == Effects && evaluation.Projects[place].Entry.Brief.Effects is null
        ? $"the brief of {evaluation.Projects[place].Entry.Name} has no effects, so they cannot grow; write `effects` in the brief, or ask for another shock"
        : null;

    /// <summary>The slate that it happened to.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="evaluation">Its briefs and their studies.</param>
    /// <param name="place">The project, from 0; not looked at where it happens to the house.</param>
    /// <param name="now">The half-day at which it is known.</param>
    /// <param name="level">The level that durations of the slate are planned at; null for the slate's own.</param>
    /// <param name="factor">What effects are multiplied by, <see cref="LeastFactor"/> to <see cref="MostFactor"/>; null for the usual.</param>
    /// <exception cref="ArgumentException">It cannot happen to this project.</exception>
    public ShockedSlate To(SlateProblem problem, SlateEvaluation evaluation, int place, int now, string? level = null, double? factor = null)
    {
        if (Hindrance(evaluation, place) is { } hindrance)
        {
            throw new ArgumentException(hindrance);
        }

        if (this == Nodes)
        {
            SlateResource nodes = problem.Resources.First(r => r.Kind == SlateResourceKind.FarmClass);
            return new(SlateShocks.Lose(problem, nodes.Name, (nodes.Capacity + 1) / 2, now), []);
        }

        SlateProject project = problem.Projects[place];
        ShootPlan shoot = evaluation.Projects[place].Entry.Brief.Shoot;
        return this == Slip ? new(SlateShocks.Slip(problem, project.Name, Week), [])
            : this == Twice ? Grown(problem, evaluation, place, level, shoot.Material(2))
            : this == Camera ? Grown(problem, evaluation, place, level, shoot.Material((shoot.Cameras.Count + 1.0) / shoot.Cameras.Count))
            : this == Effects ? Grown(problem, evaluation, place, level, EffectsBy(factor ?? UsualFactor))
            : new(SlateShocks.MoveDue(problem, project.Name, Math.Max(0, project.Due - Week)), []);
    }

    private static Change[] EffectsBy(double factor)
    {
        Guard.Finite(factor, LeastFactor, MostFactor);
        return [Change.Scale("effects.shots", factor), Change.Scale("effects.version", factor)];
    }

    // The study of the brief says what more material or effects mean; only what the project's pipelines then take is put in.
    private static ShockedSlate Grown(SlateProblem problem, SlateEvaluation evaluation, int place, string? level, IReadOnlyList<Change> changes)
    {
        SlateEvaluation grown = evaluation.After(place, changes);
        string[] breaks = [.. grown.Projects[place].Options.SelectMany(o => o.Fails.Select(f => $"{o.Pipeline}: {f}"))];
        SlateProject project = new SlateProblemBuilder(grown).Build(level).Projects[place];
        return new(SlateShocks.Replace(problem, project.Name, project.Options), breaks);
    }
}
