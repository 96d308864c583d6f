using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using Likelihood = PostPipeline.Farms.Likelihood;
using LikelihoodMessage = PostPipeline.Contracts.Rendering.V1.Likelihood;
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
