using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Flows;
using FarmSizeMessage = PostPipeline.Contracts.Rendering.V1.FarmSize;
using Likelihood = PostPipeline.Farms.Likelihood;
using LikelihoodMessage = PostPipeline.Contracts.Rendering.V1.Likelihood;
using SegmentLengthMessage = PostPipeline.Contracts.Rendering.V1.SegmentLength;
using StuckTaskMessage = PostPipeline.Contracts.Rendering.V1.StuckTask;
using TaskRecordMessage = PostPipeline.Contracts.Rendering.V1.TaskRecord;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Writes what the farm says into messages.</summary>
internal static class FarmWriter
{
    /// <summary>Microseconds, perhaps infinite, to seconds.</summary>
    public static double Seconds(double microseconds) => microseconds / FarmClock.MicrosecondsPerSecond;

    /// <summary>Microseconds to seconds; an instant that was not reached is infinite.</summary>
    public static double Seconds(long microseconds) =>
        microseconds == long.MaxValue ? double.PositiveInfinity : FarmClock.ToSeconds(microseconds);

    public static LikelihoodMessage Write(Likelihood likelihood) => new() { Value = likelihood.Value, Low = likelihood.Low, High = likelihood.High };

    public static Interval Write((double Low, double High) interval) => new() { Low = Seconds(interval.Low), High = Seconds(interval.High) };

    public static FarmResult Write(FarmForecast forecast, FarmScenario scenario, FarmBounds bounds, long tasks)
    {
        FarmResult result = new()
        {
            FinishP10Seconds = Seconds(forecast.Finish(0.1)),
            FinishP50Seconds = Seconds(forecast.Finish(0.5)),
            FinishP90Seconds = Seconds(forecast.Finish(0.9)),
            FinishP50Interval = Write(forecast.FinishInterval(0.5)),
            FinishP90Interval = Write(forecast.FinishInterval(0.9)),
            NodeSeconds = forecast.MeanBusyNodeHours * 3600,
            WastedNodeSeconds = forecast.MeanWastedNodeHours * 3600,
            Failures = forecast.MeanFailures,
            WorkBoundSeconds = Seconds(bounds.TotalWork ?? long.MaxValue),
            LongestTaskBoundSeconds = Seconds(bounds.LongestTask),
            LicenceBoundSeconds = Seconds(bounds.Licences),
            StorageBoundSeconds = Seconds(bounds.Storage),
            Tasks = tasks,
            TasksSetAside = forecast.MeanSetAside,
            Seed = forecast.Seed,
            Replications = forecast.Replications,
        };
        result.FinishSeconds.AddRange(forecast.Finishes.Select(Seconds));
        for (int j = 0; j < scenario.Jobs.Count; j++)
        {
            result.Jobs.Add(new JobFinish
            {
                Label = scenario.Jobs[j].Name,
                FinishP10Seconds = Seconds(forecast.JobFinish(j, 0.1)),
                FinishP50Seconds = Seconds(forecast.JobFinish(j, 0.5)),
                FinishP90Seconds = Seconds(forecast.JobFinish(j, 0.9)),
            });
        }

        return result;
    }

    public static SizeFarmResult Write(FarmSizingResult sizing, long seed, int replications)
    {
        SizeFarmResult result = new()
        {
            Decided = sizing.Decided,
            NodesByDivision = sizing.NodesByDivision,
            UsefulNodes = sizing.UsefulNodes,
            Limit = sizing.Limit switch { FluidLimit.Licences => "licences", FluidLimit.Storage => "storage", _ => "nodes" },
            Anomaly = sizing.Anomaly,
            Seed = seed,
            Replications = replications,
        };
        if (sizing.Nodes is int nodes)
        {
            result.Nodes = nodes;
        }

        result.Sizes.AddRange(sizing.Sizes.Select(s => new FarmSizeMessage
        {
            Nodes = s.Nodes,
            FinishP50Seconds = Seconds(s.FinishP50),
            FinishP90Seconds = Seconds(s.FinishP90),
            OnTime = Write(s.OnTime),
            BoundSeconds = Seconds(s.Bounds.Latest ?? long.MaxValue),
        }));
        return result;
    }

    public static SegmentLengthMessage Write(PostPipeline.Farms.SegmentLength length) => new()
    {
        SegmentFrames = length.Frames,
        OverheadShare = length.OverheadShare,
        TasksPerNode = length.TasksPerNode,
        FinishP50Seconds = Seconds(length.FinishP50),
        FinishP90Seconds = Seconds(length.FinishP90),
        BoundSeconds = Seconds(length.Bounds.Latest ?? long.MaxValue),
    };

    public static StuckTaskMessage Write(PostPipeline.Farms.StuckTask stuck, FarmScenario scenario) => new()
    {
        Running = stuck.Running,
        Job = scenario.Jobs[scenario.Running[stuck.Running].Job].Name,
        ElapsedSeconds = Seconds(scenario.Running[stuck.Running].ElapsedMicroseconds),
        ExpectedSeconds = Seconds(stuck.ExpectedMicroseconds),
        Chance = stuck.Chance,
    };

    public static NightForecast Write(string label, ForecastTonightRequest request, FarmForecast night, FarmForecast asItStands, FarmBounds bounds)
    {
        NightForecast forecast = new()
        {
            Label = label,
            WorkBoundSeconds = Seconds(bounds.TotalWork ?? long.MaxValue),
            LongestTaskBoundSeconds = Seconds(bounds.LongestTask),
        };
        for (int j = 0; j < request.Jobs.Count; j++)
        {
            JobForecast job = new()
            {
                Label = request.Jobs[j].Label,
                FinishP50Seconds = Seconds(night.JobFinish(j, 0.5)),
                FinishP90Seconds = Seconds(night.JobFinish(j, 0.9)),
                LaterSeconds = Later(night.JobFinishes(j), asItStands.JobFinishes(j)),
            };
            if (j < request.DueSeconds.Count && double.IsFinite(request.DueSeconds[j]))
            {
                Likelihood onTime = night.JobDoneBy(j, (long)(request.DueSeconds[j] * FarmClock.MicrosecondsPerSecond));
                job.OnTime = Write(onTime);
                job.WillMiss = onTime.Value < 0.5;
            }

            forecast.Jobs.Add(job);
        }

        return forecast;
    }

    // Replications are paired: they met the same random numbers. One that never ends makes the mean infinite.
    private static double Later(IReadOnlyList<long> night, IReadOnlyList<long> asItStands)
    {
        double sum = 0;
        for (int r = 0; r < night.Count; r++)
        {
            sum += night[r] == asItStands[r] ? 0 : Seconds(night[r]) - Seconds(asItStands[r]);
        }

        return sum / night.Count;
    }

    public static TaskRecordMessage Write(PostPipeline.Farms.TaskRecord record) => new()
    {
        Job = record.Job,
        Task = record.Segment,
        Node = record.Node,
        Attempt = record.Attempt + 1,
        StartSeconds = Seconds(record.Start),
        EndSeconds = Seconds(record.End),
        Failed = record.Outcome != TaskOutcome.Done,
    };
}
