using Google.Protobuf.Collections;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;
using CompetingLoad = PostPipeline.Farms.CompetingLoad;
using FarmJob = PostPipeline.Contracts.Rendering.V1.FarmJob;
using OpenTimes = PostPipeline.Flows.Windows;
using RunningTask = PostPipeline.Contracts.Rendering.V1.RunningTask;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Reads a farm and its jobs from a request, collecting everything that is wrong with them.</summary>
internal sealed class FarmReader
{
    /// <summary>The most jobs of one request.</summary>
    public const int MostJobs = 10_000;

    /// <summary>The most characters of a label.</summary>
    public const int MostLabel = 200;

    private readonly Violations violations;

    /// <summary>Reads what one request holds.</summary>
    /// <param name="violations">What is wrong with it, here or before.</param>
    public FarmReader(Violations violations)
    {
        this.violations = violations;
        Clock = new(violations);
        Nodes = new(violations, Clock);
    }

    /// <summary>Reads times.</summary>
    public ClockReader Clock { get; }

    /// <summary>Reads node classes.</summary>
    public NodeReader Nodes { get; }

    /// <summary>Reads a scenario; throws when anything in the request was wrong, here or before.</summary>
    /// <param name="farm">The farm; may be absent.</param>
    /// <param name="jobs">The jobs.</param>
    public FarmScenario Read(Farm? farm, RepeatedField<FarmJob> jobs)
    {
        violations.Count("jobs", jobs.Count, 0, MostJobs);
        if (!violations.Present("farm", farm))
        {
            violations.ThrowIfAny();
            throw new InvalidOperationException("A request without a farm was let through.");
        }

        FieldPath at = "farm";
        FarmFields.Check(farm, at, violations);
        string[] licences = [.. farm.Licences.Keys.Order(StringComparer.Ordinal)];
        WorkGroups groups = new(farm);
        JobReader work = new(violations, Clock, licences, groups);
        PostPipeline.Farms.FarmJob[] read = [.. jobs.Take(MostJobs).Select((job, j) => work.Job(job, FieldPath.Of("jobs")[j]))];
        CompetingLoad[] competing = [.. farm.Competing.Select((load, i) => work.Competing(load, at["competing"][i]))];
        if (groups.Classes.Count == 0)
        {
            groups.Class(string.Empty, null, 0, 0, false);
        }

        FarmScenario scenario = new()
        {
            Nodes = [.. farm.NodeClasses.Select((n, i) => Nodes.Class(n, groups.Labels, at["node_classes"][i]))],
            Classes = groups.Classes,
            Jobs = read,
            Projects = [.. groups.Projects.Select(p => new FarmProject(p, farm.ProjectWeights.TryGetValue(p, out double weight) ? weight : 1))],
            Licences = [.. licences.Select(l => new LicencePool(l, farm.Licences[l]))],
            Storage = farm.StorageBytesPerSecond > 0
                ? [new StoragePool("storage", farm.StorageBytesPerSecond, farm.LinkBytesPerSecond > 0 ? farm.LinkBytesPerSecond : null)]
                : [],
            Maintenance = [.. farm.Maintenance.Select((m, i) => Nodes.Maintenance(farm, m, at["maintenance"][i]))],
            Competing = competing,
            NightFailure = farm.NightFailureProbability > 0 ? new(Clock.Windows(farm.Nights, at["nights"]) ?? OpenTimes.Never, farm.NightFailureProbability) : null,
            Attended = Clock.Windows(farm.Attended, at["attended"]),
            MendMicroseconds = Clock.Microseconds(at["mend_seconds"], farm.MendSeconds),
            Sharing = FarmFields.Sharing(farm),
            Closing = FarmFields.Closing(farm),
            DuplicateTail = farm.DuplicateTail,
        };
        violations.ThrowIfAny();
        Refuse(scenario);
        return scenario;
    }

    /// <summary>A scenario with tasks under way; throws when anything was wrong.</summary>
    public FarmScenario ReadRunning(FarmScenario scenario, RepeatedField<RunningTask> running)
    {
        FarmScenario under = scenario with
        {
            Running = [.. running.Select((r, i) => new PostPipeline.Farms.RunningTask(r.Job, r.Node, r.Frames, Clock.Microseconds(FieldPath.Of("running")[i]["elapsed_seconds"], r.ElapsedSeconds)))],
        };
        violations.ThrowIfAny();
        Refuse(under);
        return under;
    }

    /// <summary>Throws when the domain finds something wrong with a scenario.</summary>
    public void Refuse(FarmScenario scenario)
    {
        foreach (FarmProblem problem in scenario.Problems())
        {
            violations.Add(Rename(problem.Path), $"is {problem.Message}");
        }

        violations.ThrowIfAny();
    }

    private static string Rename(string path) => path
        .Replace("_microseconds", "_seconds", StringComparison.Ordinal)
        .Replace("nodes[", "farm.node_classes[", StringComparison.Ordinal)
        .Replace("classes[", "job_class[", StringComparison.Ordinal)
        .Replace("farm.node_job_class[", "farm.node_classes[", StringComparison.Ordinal)
        .Replace(".open", ".windows", StringComparison.Ordinal);
}
