using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;
using CompetingLoad = PostPipeline.Farms.CompetingLoad;
using FarmJob = PostPipeline.Contracts.Rendering.V1.FarmJob;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Reads jobs and competing work from a request.</summary>
/// <param name="violations">What is wrong with them.</param>
/// <param name="clock">Reads their times.</param>
/// <param name="licences">The names of the licences, in the scenario's order.</param>
/// <param name="groups">Takes their classes and projects.</param>
internal sealed class JobReader(Violations violations, ClockReader clock, IReadOnlyList<string> licences, WorkGroups groups)
{
    /// <summary>A job.</summary>
    public PostPipeline.Farms.FarmJob Job(FarmJob job, FieldPath at)
    {
        int? licence = job.Licence.Length > 0 ? Licence(job.Licence, at["licence"]) : null;
        violations.Length(at["label"], job.Label, 0, FarmReader.MostLabel);
        violations.Length(at["job_class"], job.JobClass, 0, FarmReader.MostLabel);
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
            Class = groups.Class(job.JobClass, licence, job.SharedLogStandardDeviation, job.TaskLogStandardDeviation, moves),
            Project = groups.Project(job.Project),
            Priority = job.Priority,
            ReleaseMicroseconds = clock.Microseconds(at["release_seconds"], job.ReleaseSeconds),
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

    /// <summary>Work of others that comes at random.</summary>
    public CompetingLoad Competing(PostPipeline.Contracts.Rendering.V1.CompetingLoad load, FieldPath at)
    {
        violations.InRange(at["jobs_per_hour"], load.JobsPerHour, 1e-9, 1e9);
        violations.InRange(at["mean_seconds"], load.MeanSeconds, 1e-6, 1e9);
        violations.InRange(at["squared_variation"], load.SquaredVariation, 0, 1000);
        violations.InRange(at["priority"], load.Priority, -FarmScenarioLimits.MostPriority, FarmScenarioLimits.MostPriority);
        (long from, long until) = violations.Present(at["window"], load.Window) ? clock.Window(load.Window, at["window"]) ?? (0, 0) : (0, 0);
        return new()
        {
            Class = groups.Class(load.JobClass, null, 0, 0, false),
            Project = groups.Project(load.Project),
            Priority = load.Priority,
            FromMicroseconds = Math.Max(0, from),
            UntilMicroseconds = Math.Max(0, until),
            JobsPerHour = load.JobsPerHour,
            MeanSeconds = load.MeanSeconds,
            SquaredVariation = load.SquaredVariation,
        };
    }

    private int Licence(string name, FieldPath at)
    {
        for (int i = 0; i < licences.Count; i++)
        {
            if (licences[i] == name)
            {
                return i;
            }
        }

        violations.Add(at, $"is \"{name}\"; allowed is the name of one of farm.licences");
        return 0;
    }
}
