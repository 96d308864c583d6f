using PostPipeline.Slates.Planning;

namespace PostPipeline.Slates.Options;

/// <summary>Something that happens to a slate, from a list of what can be asked for.</summary>
/// <param name="Word">One word for it, as in an option of a command.</param>
/// <param name="Text">The same as a reader sees it.</param>
/// <param name="IsOfAProject">Whether it happens to one project; otherwise to the house.</param>
public sealed record SlateShock(string Word, string Text, bool IsOfAProject = true)
{
    private const int Week = 14;

    /// <summary>A project starts a week later.</summary>
    public static SlateShock Slip { get; } = new("slip", "the shoot slips a week");

    /// <summary>A project's material doubles.</summary>
    public static SlateShock Twice { get; } = new("twice", "twice the material");

    /// <summary>A project shoots with one camera more.</summary>
    public static SlateShock Camera { get; } = new("camera", "one camera more");

    /// <summary>A project is due a week earlier.</summary>
    public static SlateShock Earlier { get; } = new("earlier", "due a week earlier");

    /// <summary>Half of the first class of nodes is lost.</summary>
    public static SlateShock Nodes { get; } = new("nodes", "half of the nodes lost", IsOfAProject: false);

    /// <summary>All that can be asked for.</summary>
    public static IReadOnlyList<SlateShock> All { get; } = [Slip, Twice, Camera, Earlier, Nodes];

    /// <summary>The slate that it happened to.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="evaluation">Its briefs, for the number of cameras.</param>
    /// <param name="place">The project, from 0; not looked at where it happens to the house.</param>
    /// <param name="now">The half-day at which it is known.</param>
    public SlateProblem To(SlateProblem problem, SlateEvaluation evaluation, int place, int now)
    {
        if (this == Nodes)
        {
            SlateResource nodes = problem.Resources.First(r => r.Kind == SlateResourceKind.FarmClass);
            return SlateShocks.Lose(problem, nodes.Name, (nodes.Capacity + 1) / 2, now);
        }

        SlateProject project = problem.Projects[place];
        int cameras = Math.Max(1, evaluation.Projects[place].Entry.Brief.Shoot.Cameras.Count);
        return this == Slip ? SlateShocks.Slip(problem, project.Name, Week)
            : this == Twice ? SlateShocks.Grow(problem, project.Name, 2)
            : this == Camera ? SlateShocks.Grow(problem, project.Name, (cameras + 1.0) / cameras)
            : SlateShocks.MoveDue(problem, project.Name, Math.Max(0, project.Due - Week));
    }
}
