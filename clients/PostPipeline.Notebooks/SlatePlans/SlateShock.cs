using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Notebooks.SlatePlans;

/// <summary>Something that happens to a slate, by the words of a list.</summary>
public static class SlateShock
{
    /// <summary>A project starts a week later.</summary>
    public const string Slip = "the shoot slips a week";

    /// <summary>A project's material doubles.</summary>
    public const string Twice = "twice the material";

    /// <summary>A project shoots with one camera more.</summary>
    public const string Camera = "one camera more";

    /// <summary>A project is due a week earlier.</summary>
    public const string Earlier = "due a week earlier";

    /// <summary>Half of the first class of nodes is lost.</summary>
    public const string Nodes = "half of the nodes lost";

    /// <summary>All that can be asked for.</summary>
    public static IReadOnlyList<string> All { get; } = [Slip, Twice, Camera, Earlier, Nodes];

    /// <summary>The slate that it happened to.</summary>
    internal static SlateProblem To(SlateProblem problem, SlateEvaluation evaluation, string shock, int place, int now)
    {
        SlateProject project = problem.Projects[place];
        int cameras = evaluation.Projects[place].Entry.Brief.Shoot.Cameras.Count;
        return shock switch
        {
            Slip => SlateShocks.Slip(problem, project.Name, 14),
            Twice => SlateShocks.Grow(problem, project.Name, 2),
            Camera => SlateShocks.Grow(problem, project.Name, (cameras + 1.0) / Math.Max(1, cameras)),
            Earlier => SlateShocks.MoveDue(problem, project.Name, Math.Max(0, project.Due - 14)),
            Nodes => problem.Resources.First(r => r.Kind == SlateResourceKind.FarmClass) is var nodes
                ? SlateShocks.Lose(problem, nodes.Name, (nodes.Capacity + 1) / 2, now) : problem,
            _ => throw new ArgumentException($"'{shock}' is not known; allowed is {string.Join(", ", All)}", nameof(shock)),
        };
    }
}
