using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>The job classes and projects that the work of a request falls into, in the order in which they are first named.</summary>
internal sealed class WorkGroups(Farm farm)
{
    private readonly Dictionary<string, int> projects = [];
    private readonly Dictionary<string, int> errorGroups = [];
    private readonly List<JobClass> classes = [];
    private readonly List<string> labels = [];
    private readonly Dictionary<(string Label, int? Licence, double Shared, double Own, bool Moves), int> known = [];

    /// <summary>The classes.</summary>
    public IReadOnlyList<JobClass> Classes => classes;

    /// <summary>The label of each class as the request has it; two classes may share one.</summary>
    public IReadOnlyList<string> Labels => labels;

    /// <summary>The names of the projects.</summary>
    public IReadOnlyCollection<string> Projects => projects.Keys;

    /// <summary>The place of a project.</summary>
    /// <param name="name">Its name.</param>
    public int Project(string name)
    {
        if (!projects.TryGetValue(name, out int project))
        {
            projects.Add(name, project = projects.Count);
        }

        return project;
    }

    /// <summary>
    /// The place of a class. A job carries what the domain keeps in a class, so jobs that differ in it get classes of their
    /// own; the label alone decides who shares an error.
    /// </summary>
    /// <param name="label">The label.</param>
    /// <param name="licence">The place of the licence that each task holds; null for none.</param>
    /// <param name="shared">Standard deviation of the logarithm of the error that a label's jobs share.</param>
    /// <param name="own">Standard deviation of the logarithm of each task's own error.</param>
    /// <param name="moves">Whether tasks read or write shared storage.</param>
    public int Class(string label, int? licence, double shared, double own, bool moves)
    {
        var key = (label, licence, shared, own, moves);
        if (known.TryGetValue(key, out int place))
        {
            return place;
        }

        if (!errorGroups.TryGetValue(label, out int group))
        {
            errorGroups.Add(label, group = errorGroups.Count);
        }

        known.Add(key, classes.Count);
        labels.Add(label);
        classes.Add(new()
        {
            Name = label,
            Licence = licence,
            Storage = moves && farm.StorageBytesPerSecond > 0 ? 0 : null,
            Overlap = farm.HasStorageOverlap ? farm.StorageOverlap : 1,
            SharedLogSd = shared,
            ErrorGroup = group,
            TaskLogSd = own,
            FailureProbability = farm.FailureProbability,
            FailurePoint = farm.HasFailurePoint ? farm.FailurePoint : 1,
            BrokenProbability = farm.BrokenProbability,
            RetryCap = farm.MostAttempts == 0 ? 3 : farm.MostAttempts,
        });
        return classes.Count - 1;
    }
}
