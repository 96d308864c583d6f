using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Stages;
using PostPipeline.Studies.Takes;
using PlannedTake = PostPipeline.Studies.Takes.PlannedTake;

namespace PostPipeline.Studies.Preparing;

/// <summary>Rehearses the conform: the takes that the plan would make, against a synthetic cut.</summary>
internal sealed class RehearsalCalls(SuiteClients services)
{
    private const int TakesInAMessage = 1000;

    public async Task<IReadOnlyDictionary<string, RehearsalFacts>> RehearseAsync(
        Brief brief, IReadOnlyList<PlannedTake> takes, IReadOnlyList<RecordingFacts> recordings, CancellationToken cancellation)
    {
        Dictionary<string, RehearsalFacts> rehearsals = [];
        foreach (string source in brief.Pipelines.Where(p => p.StartsWith("proxy", StringComparison.Ordinal)).Select(p => PipelineBuilder.ProxySource(brief, p)).Distinct())
        {
            rehearsals.Add(source, takes.Count == 0 ? new(null, 0, 0, 0, []) : await RehearseAsync(brief, takes, recordings, source, cancellation).ConfigureAwait(false));
        }

        return rehearsals;
    }

    private async Task<RehearsalFacts> RehearseAsync(
        Brief brief, IReadOnlyList<PlannedTake> takes, IReadOnlyList<RecordingFacts> recordings, string source, CancellationToken cancellation)
    {
        using AsyncClientStreamingCall<RehearsePlanRequest, RehearsePlanResponse> call = services.Conform.RehearsePlan(cancellationToken: cancellation);
        await call.RequestStream.WriteAsync(new() { Settings = Settings(brief, source) }, cancellation).ConfigureAwait(false);
        Dictionary<(int, int), RecordingFacts> facts = recordings.ToDictionary(r => (r.Camera, r.Recording));
        Dictionary<(int, int), long> runs = [];
        foreach (PlannedTake[] some in takes.Chunk(TakesInAMessage))
        {
            Contracts.Timecodes.V1.PlannedTakes message = new();
            message.Takes.AddRange(some.Select(t => Take(brief, t, facts[(t.Camera, t.Recording)], runs)));
            await call.RequestStream.WriteAsync(new() { Takes = message }, cancellation).ConfigureAwait(false);
        }

        await call.RequestStream.CompleteAsync().ConfigureAwait(false);
        RehearsePlanResponse answer = await call.ResponseAsync.ConfigureAwait(false);
        return new(
            Wire.Known(answer.Verdict),
            answer.Events,
            answer.ProblemEvents,
            answer.ProblemEventsBest,
            [.. answer.Findings.Select(f => new RehearsalNote(f.Name, f.Verdict == Contracts.Types.V1.Verdict.Fail, f.Camera, f.Takes, f.Events, f.Description, f.Remedy, f.FirstDay))]);
    }

    private static RehearsalSettings Settings(Brief brief, string source)
    {
        double events = brief.Input("edit.events_per_minute").Likely * brief.Edit.FinishedSeconds / 60 * brief.Edit.Tracks;
        RehearsalSettings settings = new()
        {
            Seed = brief.Seed,
            ProjectRate = Wire.Of(brief.Modes[0].ProjectRate),
            Events = (int)Math.Clamp(Math.Round(events), 1, 20_000),
            HandleFrames = brief.Finish.Handles,
            ReelNameCharacters = brief.Proxies.NamesKept == true ? 0 : 8,
        };
        foreach (Camera camera in brief.Shoot.Cameras)
        {
            settings.Cameras.Add(new CameraSettings
            {
                Camera = camera.Letter,
                TimecodeRun = camera.RecordRun ? TimecodeRun.Record : TimecodeRun.Free,
                OffSpeedLabelling = camera.OffSpeedLabels switch
                {
                    "per-frame" => OffSpeedLabelling.PerFrame,
                    "clock" => OffSpeedLabelling.FollowsClock,
                    "record-run" => OffSpeedLabelling.RecordRunForced,
                    "none" => OffSpeedLabelling.None,
                    _ => OffSpeedLabelling.Unknown,
                },
                TimecodeBase = Wire.Of(camera.Recordings[0].Mode.ProjectRate),
                ProxySource = source == "in-camera" ? ProxySource.InCamera : ProxySource.InPost,
                ProxyMatches = source == "in-camera" ? Wire.Of(camera.ProxyMatches) : Contracts.Types.V1.Verdict.Pass,
                ProxyOffSpeed = source == "in-camera" ? Contracts.Types.V1.Verdict.Unknown : Contracts.Types.V1.Verdict.Pass,
            });
        }

        return settings;
    }

    private static Contracts.Timecodes.V1.PlannedTake Take(Brief brief, PlannedTake take, RecordingFacts facts, Dictionary<(int, int), long> runs)
    {
        Camera camera = brief.Shoot.Cameras[take.Camera];
        long run = runs.GetValueOrDefault((take.Camera, take.Day));
        runs[(take.Camera, take.Day)] = run + take.Frames;
        long bytes = checked(take.Frames * facts.BytesPerFrame);
        return new()
        {
            Clip = TakeNames.Clip(camera.Letter, take.Day, take.Number),
            Reel = TakeNames.Reel(camera.Letter, take.Day),
            Camera = camera.Letter,
            Day = take.Day,
            StartSeconds = take.StartSeconds,
            Frames = take.Frames,
            SensorRate = Wire.Of(camera.Recordings[take.Recording].Mode.SensorRate),
            Bytes = bytes,
            Chunks = (int)Math.Clamp((bytes + camera.Card.LargestFile.Bytes - 1) / Math.Max(1, camera.Card.LargestFile.Bytes), 1, 1_000_000),
            RecordRunStartFrame = run,
        };
    }
}
