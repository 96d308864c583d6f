using Google.Protobuf.Collections;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;
using ClosingRule = PostPipeline.Contracts.Rendering.V1.ClosingRule;
using CompetingLoad = PostPipeline.Farms.CompetingLoad;
using FarmJob = PostPipeline.Contracts.Rendering.V1.FarmJob;
using Maintenance = PostPipeline.Farms.Maintenance;
using NodeClass = PostPipeline.Contracts.Rendering.V1.NodeClass;
using OpenTimes = PostPipeline.Flows.Windows;
using SharingRule = PostPipeline.Contracts.Rendering.V1.SharingRule;
using Window = PostPipeline.Contracts.Types.V1.Window;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Reads a farm and its jobs from a request, collecting everything that is wrong with them.</summary>
internal sealed class FarmReader(Violations violations)
{
    /// <summary>The most jobs of one request.</summary>
    public const int MostJobs = 10_000;

    private const int MostLabel = 200;
    private static readonly double LongestSeconds = FarmClock.ToSeconds(FarmClock.Longest);

    private readonly Dictionary<string, int> projects = [];
    private readonly List<string> licences = [];
    private readonly Dictionary<string, int> errorGroups = [];
    private readonly List<JobClass> classes = [];
    private readonly List<string> classLabels = [];
    private readonly Dictionary<(string Label, int? Licence, double Shared, double Own, bool Moves), int> knownClasses = [];

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
        FarmFields(farm, at);
        licences.AddRange(farm.Licences.Keys.Order(StringComparer.Ordinal));
        List<PostPipeline.Farms.FarmJob> work = [];
        for (int j = 0; j < jobs.Count && j < MostJobs; j++)
        {
            work.Add(Job(farm, jobs[j], FieldPath.Of("jobs")[j]));
        }

        CompetingLoad[] competing = [.. farm.Competing.Select((load, i) => Competing(farm, load, at["competing"][i]))];
        if (classes.Count == 0)
        {
            Class(farm, string.Empty, null, 0, 0, false);
        }

        FarmScenario scenario = new()
        {
            Nodes = [.. farm.NodeClasses.Select((n, i) => Node(n, at["node_classes"][i]))],
            Classes = classes,
            Jobs = work,
            Projects = [.. projects.Keys.Select(p => new FarmProject(p, farm.ProjectWeights.TryGetValue(p, out double weight) ? weight : 1))],
            Licences = [.. licences.Select(l => new LicencePool(l, farm.Licences[l]))],
            Storage = farm.StorageBytesPerSecond > 0
                ? [new StoragePool("storage", farm.StorageBytesPerSecond, farm.LinkBytesPerSecond > 0 ? farm.LinkBytesPerSecond : null)]
                : [],
            Maintenance = [.. farm.Maintenance.Select((m, i) => ReadMaintenance(farm, m, at["maintenance"][i]))],
            Competing = competing,
            NightFailure = farm.NightFailureProbability > 0 ? new(ReadWindows(farm.Nights, at["nights"]) ?? OpenTimes.Never, farm.NightFailureProbability) : null,
            Attended = ReadWindows(farm.Attended, at["attended"]),
            MendMicroseconds = Microseconds(at["mend_seconds"], farm.MendSeconds),
            Sharing = farm.Sharing == SharingRule.Fair ? PostPipeline.Farms.SharingRule.Fair : PostPipeline.Farms.SharingRule.Strict,
            Closing = farm.Closing switch
            {
                ClosingRule.Finish => PostPipeline.Farms.ClosingRule.Finish,
                ClosingRule.Abandon => PostPipeline.Farms.ClosingRule.Abandon,
                _ => PostPipeline.Farms.ClosingRule.Pause,
            },
            DuplicateTail = farm.DuplicateTail,
        };
        violations.ThrowIfAny();
        Refuse(scenario);
        return scenario;
    }

    /// <summary>The place of a node class by its label; 0, with a violation, where there is none.</summary>
    public int NodeClassIndex(Farm farm, string label, FieldPath path)
    {
        for (int i = 0; i < farm.NodeClasses.Count; i++)
        {
            if (farm.NodeClasses[i].Label == label)
            {
                return i;
            }
        }

        violations.Add(path, $"is \"{label}\"; allowed is the label of a node class");
        return 0;
    }

    /// <summary>Maintenance from a request.</summary>
    public Maintenance ReadMaintenance(Farm farm, PostPipeline.Contracts.Rendering.V1.Maintenance m, FieldPath path)
    {
        violations.InRange(path["nodes"], m.Nodes, 0, FarmScenarioLimits.MostNodes);
        if (violations.Present(path["window"], m.Window) && Window(m.Window, path["window"]) is (long from, long until))
        {
            return new(NodeClassIndex(farm, m.NodeClass, path["node_class"]), Math.Max(0, m.Nodes), from, until);
        }

        return new(0, 0, 0, 0);
    }

    /// <summary>Seconds to the farm's clock; 0, with a violation, where they do not fit it.</summary>
    public long Microseconds(FieldPath path, double seconds) =>
        violations.InRange(path, seconds, 0, LongestSeconds) ? FarmClock.FromSeconds(seconds) : 0;

    /// <summary>A scenario with tasks under way; throws when anything was wrong.</summary>
    public FarmScenario ReadRunning(FarmScenario scenario, RepeatedField<PostPipeline.Contracts.Rendering.V1.RunningTask> running)
    {
        FarmScenario under = scenario with
        {
            Running = [.. running.Select((r, i) => new PostPipeline.Farms.RunningTask(r.Job, r.Node, r.Frames, Microseconds(FieldPath.Of("running")[i]["elapsed_seconds"], r.ElapsedSeconds)))],
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

    private void FarmFields(Farm farm, FieldPath at)
    {
        violations.Count(at["node_classes"], farm.NodeClasses.Count, 1, FarmScenarioLimits.MostClasses);
        violations.InRange(at["failure_probability"], farm.FailureProbability, 0, 0.99);
        violations.InRange(at["most_attempts"], farm.MostAttempts, 0, 1000);
        violations.InRange(at["storage_bytes_per_second"], farm.StorageBytesPerSecond, 0, 1e15);
        violations.InRange(at["broken_probability"], farm.BrokenProbability, 0, 1);
        violations.InRange(at["failure_point"], farm.HasFailurePoint ? farm.FailurePoint : 1, 0, 1);
        violations.InRange(at["link_bytes_per_second"], farm.LinkBytesPerSecond, 0, 1e15);
        violations.InRange(at["storage_overlap"], farm.HasStorageOverlap ? farm.StorageOverlap : 1, 0, 1);
        violations.InRange(at["night_failure_probability"], farm.NightFailureProbability, 0, 1);
        violations.Require(at["closing"], Enum.IsDefined(farm.Closing), $"is {farm.Closing}; allowed is one of pause, finish, abandon");
        violations.Require(at["sharing"], Enum.IsDefined(farm.Sharing), $"is {farm.Sharing}; allowed is one of strict, fair");
        violations.Count(at["licences"], farm.Licences.Count, 0, FarmScenarioLimits.MostClasses);
        foreach ((string name, int count) in farm.Licences)
        {
            violations.InRange(at[$"licences[{name}]"], count, 1, int.MaxValue);
        }

        foreach ((string name, double weight) in farm.ProjectWeights)
        {
            violations.InRange(at[$"project_weights[{name}]"], weight, 1e-6, 1e6);
        }
    }

    private PostPipeline.Farms.NodeClass Node(NodeClass node, FieldPath at)
    {
        violations.Length(at["label"], node.Label, 0, MostLabel);
        violations.InRange(at["count"], node.Count, 0, FarmScenarioLimits.MostNodes);
        violations.InRange(at["speed"], node.Speed, 0, 1e6);
        violations.InRange(at["slow_probability"], node.SlowProbability, 0, 1);
        double low = node.SlowFactorLow == 0 ? 1.3 : node.SlowFactorLow;
        double high = node.SlowFactorHigh == 0 ? Math.Max(low, 3) : node.SlowFactorHigh;
        violations.InRange(at["slow_factor_low"], low, 1, 1000);
        violations.InRange(at["slow_factor_high"], high, low, 1000);
        foreach ((string label, double speed) in node.SpeedByJobClass)
        {
            violations.InRange(at[$"speed_by_job_class[{label}]"], speed, 0, 1e6);
        }

        double general = node.Speed == 0 ? 1 : node.Speed;
        return new()
        {
            Name = node.Label,
            Count = node.Count,
            TimeFactors = [.. classLabels.Select(l => node.SpeedByJobClass.TryGetValue(l, out double s) ? (s > 0 ? 1 / s : 0) : 1 / general)],
            Open = ReadWindows(node.Windows, at["windows"]),
            SlowProbability = node.SlowProbability,
            SlowFactorLow = low,
            SlowFactorHigh = high,
            MeanUpMicroseconds = Microseconds(at["mean_up_seconds"], node.MeanUpSeconds),
            MeanDownMicroseconds = Microseconds(at["mean_down_seconds"], node.MeanDownSeconds),
        };
    }

    private PostPipeline.Farms.FarmJob Job(Farm farm, FarmJob job, FieldPath at)
    {
        int? licence = null;
        if (job.Licence.Length > 0)
        {
            int found = licences.IndexOf(job.Licence);
            violations.Require(at["licence"], found >= 0, $"is \"{job.Licence}\"; allowed is the name of one of farm.licences");
            licence = Math.Max(0, found);
        }

        violations.Length(at["label"], job.Label, 0, MostLabel);
        violations.Length(at["job_class"], job.JobClass, 0, MostLabel);
        violations.InRange(at["frames"], job.Frames, 0, FarmScenarioLimits.MostFrames);
        violations.InRange(at["seconds_per_frame"], job.SecondsPerFrame, 0, 1e7);
        violations.InRange(at["shared_log_standard_deviation"], job.SharedLogStandardDeviation, 0, 3);
        violations.InRange(at["task_log_standard_deviation"], job.TaskLogStandardDeviation, 0, 3);
        violations.InRange(at["segment_frames"], job.SegmentFrames, 0, FarmScenarioLimits.MostFrames);
        violations.InRange(at["pre_roll_frames"], job.PreRollFrames, 0, FarmScenarioLimits.MostFrames);
        violations.InRange(at["overhead_seconds"], job.OverheadSeconds, 0, 1e7);
        violations.InRange(at["join_seconds"], job.JoinSeconds, 0, 1e7);
        violations.InRange(at["priority"], job.Priority, -FarmScenarioLimits.MostPriority, FarmScenarioLimits.MostPriority);
        violations.InRange(at["read_bytes_per_frame"], job.ReadBytesPerFrame, 0, 1_000_000_000_000);
        violations.InRange(at["write_bytes_per_frame"], job.WriteBytesPerFrame, 0, 1_000_000_000_000);
        bool moves = job.ReadBytesPerFrame > 0 || job.WriteBytesPerFrame > 0;
        return new()
        {
            Name = job.Label,
            Class = Class(farm, job.JobClass, licence, job.SharedLogStandardDeviation, job.TaskLogStandardDeviation, moves),
            Project = Project(job.Project),
            Priority = job.Priority,
            ReleaseMicroseconds = Microseconds(at["release_seconds"], job.ReleaseSeconds),
            Frames = job.Frames,
            SecondsPerFrame = job.SecondsPerFrame,
            SegmentFrames = job.SegmentFrames,
            PreRollFrames = job.PreRollFrames,
            OverheadSeconds = job.OverheadSeconds,
            ReadBytesPerFrame = job.ReadBytesPerFrame,
            WriteBytesPerFrame = job.WriteBytesPerFrame,
            JoinSecondsPerFrame = job.JoinSeconds > 0 && job.Frames > 0 ? job.JoinSeconds / job.Frames : null,
            After = [.. job.After],
        };
    }

    private CompetingLoad Competing(Farm farm, PostPipeline.Contracts.Rendering.V1.CompetingLoad load, FieldPath at)
    {
        violations.InRange(at["jobs_per_hour"], load.JobsPerHour, 1e-9, 1e9);
        violations.InRange(at["mean_seconds"], load.MeanSeconds, 1e-6, 1e9);
        violations.InRange(at["squared_variation"], load.SquaredVariation, 0, 1000);
        violations.InRange(at["priority"], load.Priority, -FarmScenarioLimits.MostPriority, FarmScenarioLimits.MostPriority);
        (long from, long until) = violations.Present(at["window"], load.Window) ? Window(load.Window, at["window"]) ?? (0, 0) : (0, 0);
        return new()
        {
            Class = Class(farm, load.JobClass, null, 0, 0, false),
            Project = Project(load.Project),
            Priority = load.Priority,
            FromMicroseconds = Math.Max(0, from),
            UntilMicroseconds = Math.Max(0, until),
            JobsPerHour = load.JobsPerHour,
            MeanSeconds = load.MeanSeconds,
            SquaredVariation = load.SquaredVariation,
        };
    }

    private int Project(string name)
    {
        if (!projects.TryGetValue(name, out int project))
        {
            projects.Add(name, project = projects.Count);
        }

        return project;
    }

    // A job carries what the domain keeps in a class, so jobs that differ in it get classes of their own; the label alone
    // decides who shares an error.
    private int Class(Farm farm, string label, int? licence, double shared, double own, bool moves)
    {
        var key = (label, licence, shared, own, moves);
        if (knownClasses.TryGetValue(key, out int known))
        {
            return known;
        }

        if (!errorGroups.TryGetValue(label, out int group))
        {
            errorGroups.Add(label, group = errorGroups.Count);
        }

        knownClasses.Add(key, classes.Count);
        classLabels.Add(label);
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

    private OpenTimes? ReadWindows(RepeatedField<Window> windows, FieldPath path)
    {
        if (windows.Count == 0 || !violations.Count(path, windows.Count, 0, FarmScenarioLimits.MostWindows))
        {
            return null;
        }

        return OpenTimes.From(windows.Select((w, i) => Window(w, path[i])).OfType<(long, long)>());
    }

    private (long From, long Until)? Window(Window window, FieldPath path)
    {
        if (violations.InRange(path["from_seconds"], window.FromSeconds, -LongestSeconds, LongestSeconds)
            && violations.InRange(path["until_seconds"], window.UntilSeconds, window.FromSeconds, LongestSeconds))
        {
            return (Signed(window.FromSeconds), Signed(window.UntilSeconds));
        }

        return null;
    }

    private static long Signed(double seconds) => Math.Sign(seconds) * FarmClock.FromSeconds(Math.Abs(seconds));
}
