using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.RenderTimes.FarmLogs;

namespace PostPipeline.Rendering.Service.RenderTimes;

/// <summary>Between the contract's messages and the domain's farm logs.</summary>
internal static class FarmLogMapping
{
    public static FarmLogEntry ToEntry(this FarmLogAttempt attempt) => new(
        attempt.Job, attempt.Task, attempt.Node, attempt.StartSeconds, attempt.EndSeconds, attempt.Frames, attempt.State switch
        {
            Contracts.Rendering.V1.AttemptState.Done => PostPipeline.RenderTimes.FarmLogs.AttemptState.Done,
            Contracts.Rendering.V1.AttemptState.Failed => PostPipeline.RenderTimes.FarmLogs.AttemptState.Failed,
            _ => PostPipeline.RenderTimes.FarmLogs.AttemptState.Running,
        },
        attempt.Attempt);

    public static SummarizeFarmLogResponse ToResponse(this FarmLogSummary summary)
    {
        SummarizeFarmLogResponse response = new()
        {
            Attempts = summary.Attempts,
            Tasks = summary.Tasks,
            FailureRate = summary.FailureRate,
            FailureRateLow = summary.FailureLow,
            FailureRateHigh = summary.FailureHigh,
            RetryRate = summary.RetryRate,
            NeverDone = summary.NeverDone,
            UnloggedAttempts = summary.UnloggedAttempts,
        };
        if (!double.IsNaN(summary.TaskOverheadSeconds))
        {
            response.TaskOverheadSeconds = summary.TaskOverheadSeconds;
            response.TaskOverheadErrorSeconds = summary.TaskOverheadError;
        }

        foreach (PostPipeline.RenderTimes.FarmLogs.LoggedJob job in summary.Jobs)
        {
            Contracts.Rendering.V1.LoggedJob logged = new() { Job = job.Job, Frames = job.Frames, NodeHours = job.NodeHours, NodeShare = job.NodeShare };
            if (!double.IsNaN(job.SecondsPerFrame))
            {
                logged.SecondsPerFrame = job.SecondsPerFrame;
            }

            response.Jobs.Add(logged);
        }

        foreach (PostPipeline.RenderTimes.FarmLogs.LoggedNode node in summary.Nodes)
        {
            Contracts.Rendering.V1.LoggedNode logged = new() { Node = node.Node, Attempts = node.Attempts, Slow = node.Slow };
            if (!double.IsNaN(node.TimeFactor))
            {
                logged.TimeFactor = node.TimeFactor;
            }

            response.Nodes.Add(logged);
        }

        response.Hours.AddRange(summary.Hours.Select(h => new Contracts.Rendering.V1.LoggedHour { Hour = h.Hour, ActiveShare = h.ActiveShare, BusyShare = h.BusyShare }));
        return response;
    }
}
