using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Flows;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Stages;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Preparing;

/// <summary>
/// Holds the fluid model of each farm stage against the event simulation on the brief's own material, at the planned
/// hours and the predicted seconds per frame. What is left over is the simulation's own noise and the fluid's error.
/// </summary>
internal sealed class FarmCalls(SuiteClients services)
{
    // Above this disagreement the simulation is run with more replications, and the answer says so.
    private const double TrustedPercent = 3;
    private const int MoreReplications = 500;

    public async Task<IReadOnlyDictionary<string, FarmCalibration>> CalibrateAsync(PreparedStudy study, IProgress<string>? progress, CancellationToken cancellation)
    {
        Dictionary<string, FarmCalibration> calibrations = [];
        if (study.Brief.Farm.Nodes.Sum(n => n.Count) == 0 || study.Takes.Count == 0)
        {
            return calibrations;
        }

        StudyModel model = new(study);
        Scope scope = model.NewScope();
        Change[] planned =
        [
            .. study.Brief.Inputs.Where(i => i.Key.EndsWith("hours_per_day", StringComparison.Ordinal)).Select(i => Change.Fix(i.Key, i.Likely)),
            Change.Fix("farm.available", 1),
            Change.Fix("farm.other_work", 0),
        ];
        (int, Change)[] placed = [.. planned.Select(c => (model.Inputs.PlaceOf(c.Input), c))];
        model.Prepare(scope, DrawSet.Median(model.Inputs), 0, placed);
        foreach (PipelinePlan plan in model.Plans)
        {
            plan.Compute(scope, new PipelineResult());
            foreach (FarmStage stage in FarmStage.Of(study, plan, scope))
            {
                if (!calibrations.ContainsKey(stage.Key))
                {
                    progress?.Report($"farm, simulated: {stage.Key}");
                    calibrations.Add(stage.Key, await CalibrateAsync(study, model.FarmWindows, stage, cancellation).ConfigureAwait(false));
                }
            }
        }

        return calibrations;
    }

    private async Task<FarmCalibration> CalibrateAsync(PreparedStudy study, Windows windows, FarmStage stage, CancellationToken cancellation)
    {
        FarmCalibration first = await SimulateAsync(study, windows, stage, study.Brief.Farm.Replications, cancellation).ConfigureAwait(false);
        return first.DisagreementPercent > TrustedPercent && study.Brief.Farm.Replications < MoreReplications
            ? await SimulateAsync(study, windows, stage, MoreReplications, cancellation).ConfigureAwait(false)
            : first;
    }

    private async Task<FarmCalibration> SimulateAsync(PreparedStudy study, Windows windows, FarmStage stage, int replications, CancellationToken cancellation)
    {
        using AsyncServerStreamingCall<SimulateFarmResponse> call = services.Farm.SimulateFarm(Request(study, windows, stage, replications), cancellationToken: cancellation);
        FarmResult? result = null;
        await foreach (SimulateFarmResponse message in call.ResponseStream.ReadAllAsync(cancellation).ConfigureAwait(false))
        {
            result = message.Result ?? result;
        }

        if (result is null)
        {
            throw new InvalidOperationException($"The farm simulation of {stage.Key} ended without a result.");
        }

        double fluidOpen = windows.OpenBetween(stage.LastRelease, Math.Max(stage.LastRelease, stage.FluidFinish));
        List<double> ratios = [];
        foreach (double finish in result.FinishSeconds.Where(double.IsFinite))
        {
            double open = windows.OpenBetween(stage.LastRelease, Math.Max(stage.LastRelease, (long)Math.Round(finish)));
            ratios.Add(fluidOpen > 0 ? open / fluidOpen : 1);
        }

        ratios.Sort();
        double all = Math.Max(1, windows.OpenBetween(stage.FirstRelease, Math.Max(stage.FirstRelease + 1, stage.FluidFinish)));
        double median = ratios.Count > 0 ? Quantities.Quantiles.OfSorted(ratios.ToArray(), 0.5) : 1;
        return new(stage.Key, ratios, Math.Abs(median - 1) * fluidOpen / all * 100, result.Replications, result.FinishP50Seconds, result.Tasks);
    }

    private static SimulateFarmRequest Request(PreparedStudy study, Windows windows, FarmStage stage, int replications)
    {
        FarmPlan plan = study.Brief.Farm;
        Farm farm = new()
        {
            FailureProbability = study.Brief.Input("farm.failures").Likely,
            StorageBytesPerSecond = plan.Storage.BytesPerSecond.ToDouble(),
        };
        if (plan.Licences > 0)
        {
            farm.Licences.Add("render", plan.Licences);
        }

        // Windows from the first release on, for twice the fluid's time and some weeks: enough, and a small message.
        long until = stage.FluidFinish + (stage.FluidFinish - stage.FirstRelease) + (long)(60 * Calendar.Day);
        Windows near = windows.Intersect(Windows.From([(stage.FirstRelease, until)]));
        for (int i = 0; i < plan.Nodes.Count; i++)
        {
            Contracts.Rendering.V1.NodeClass message = new() { Label = plan.Nodes[i].Name, Count = plan.Nodes[i].Count, Speed = stage.Jobs[0].Facts.ClassSpeeds[i] };
            message.Windows.AddRange(near.Intervals.Select(w => new Contracts.Types.V1.Window { FromSeconds = w.From, UntilSeconds = w.Until }));
            farm.NodeClasses.Add(message);
        }

        SimulateFarmRequest request = new() { Seed = study.Brief.Seed, Replications = replications, Farm = farm };
        request.Jobs.AddRange(stage.Jobs.Select(j => new FarmJob
        {
            Label = j.Label,
            JobClass = j.Facts.Kind,
            ReleaseSeconds = j.Release,
            Frames = j.Frames,
            SecondsPerFrame = j.Facts.SecondsPerFrame,
            TaskLogStandardDeviation = 0.1,
            SegmentFrames = plan.SegmentFrames,
            OverheadSeconds = plan.OverheadSeconds,
            ReadBytesPerFrame = j.Facts.ReadBytesPerFrame,
            WriteBytesPerFrame = j.Facts.WriteBytesPerFrame,
            Licence = plan.Licences > 0 ? "render" : string.Empty,
        }));
        return request;
    }
}
