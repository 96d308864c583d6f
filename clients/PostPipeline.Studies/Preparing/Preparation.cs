using PostPipeline.Client;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Preparing;

/// <summary>
/// The rounds of calls between a brief and its composition. Rates and burst windows come first, because a take of a
/// burst mode is no longer than its window; then takes (pure), offload, predictions, rehearsal, and last the farm's
/// event simulation on what the earlier rounds gave. No round feeds an earlier one; predictions need only rates, so they
/// are asked for beside takes, offload and rehearsal.
/// </summary>
/// <param name="services">The services.</param>
/// <param name="learning">A run of <see cref="LearnAsync"/> under way, which is waited for; null where there is none.</param>
public sealed class Preparation(SuiteClients services, Task? learning = null)
{
    /// <summary>
    /// Learns render times from the invented rows, which every study does first: whoever knows that a study will come can do
    /// it while something else goes on, and the study finds it done.
    /// </summary>
    /// <param name="services">The services.</param>
    /// <param name="cancellation">Ends the calls.</param>
    public static Task LearnAsync(SuiteClients services, CancellationToken cancellation = default) => new RenderTimeCalls(services).LearnInventedAsync(cancellation);

    /// <summary>Prepares a study.</summary>
    /// <param name="brief">The brief.</param>
    /// <param name="benchmarks">Benchmark rows to learn render times from; null for those that the brief names, or else the invented ones.</param>
    /// <param name="progress">Told what is being done.</param>
    /// <param name="cancellation">Ends the calls.</param>
    public async Task<PreparedStudy> PrepareAsync(
        Brief brief, BenchmarkFile? benchmarks = null, IProgress<string>? progress = null, CancellationToken cancellation = default)
    {
        benchmarks ??= brief.Farm.Benchmarks.Length > 0 ? BenchmarkFile.Read(brief.Farm.Benchmarks) : null;
        progress?.Report("rates and bursts");
        FootageCalls footage = new(services);
        FrameSizes sizes = await footage.RatesAsync(brief, cancellation).ConfigureAwait(false);
        IReadOnlyList<RecordingFacts> recordings = await footage.AssessAsync(brief, sizes, cancellation).ConfigureAwait(false);

        using CancellationTokenSource ending = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        Task<(IReadOnlyList<JobFacts> Jobs, ModelFacts Model)> predicting = PredictAsync(brief, sizes, benchmarks, ending.Token);
        try
        {
            return await PrepareAsync(brief, sizes, recordings, predicting, progress, cancellation).ConfigureAwait(false);
        }
        finally
        {
            // Nothing of this goes on when the answer or the problem is out.
            await ending.CancelAsync().ConfigureAwait(false);
            await predicting.ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default).ConfigureAwait(false);
        }
    }

    /// <summary>Only the rehearsal of the takes that a brief expands to, by source of proxies.</summary>
    /// <param name="brief">The brief.</param>
    /// <param name="cancellation">Ends the calls.</param>
    public async Task<IReadOnlyDictionary<string, RehearsalFacts>> RehearseAsync(Brief brief, CancellationToken cancellation = default)
    {
        FootageCalls footage = new(services);
        FrameSizes sizes = await footage.RatesAsync(brief, cancellation).ConfigureAwait(false);
        IReadOnlyList<RecordingFacts> recordings = await footage.AssessAsync(brief, sizes, cancellation).ConfigureAwait(false);
        IReadOnlyList<PlannedTake> takes = TakeExpansion.Expand(brief, (camera, recording) => MostFrames(recordings, camera, recording), cancellation);
        return await new RehearsalCalls(services).RehearseAsync(brief, takes, recordings, cancellation).ConfigureAwait(false);
    }

    private async Task<PreparedStudy> PrepareAsync(
        Brief brief,
        FrameSizes sizes,
        IReadOnlyList<RecordingFacts> recordings,
        Task<(IReadOnlyList<JobFacts> Jobs, ModelFacts Model)> predicting,
        IProgress<string>? progress,
        CancellationToken cancellation)
    {
        progress?.Report("takes");
        IReadOnlyList<PlannedTake> takes = TakeExpansion.Expand(brief, (camera, recording) => MostFrames(recordings, camera, recording), cancellation);
        IReadOnlyList<Strand> strands = Strands(brief, takes, recordings);

        progress?.Report("offload, card by card");
        OffloadCalls offloads = new(services);
        OffloadFacts offload = await offloads.SimulateAsync(brief, takes, recordings, brief.Offload.Stations, cancellation).ConfigureAwait(false);
        OffloadFacts oneMore = await offloads.SimulateAsync(brief, takes, recordings, brief.Offload.Stations + 1, cancellation).ConfigureAwait(false);

        progress?.Report("conform rehearsal");
        IReadOnlyDictionary<string, RehearsalFacts> rehearsals = await new RehearsalCalls(services).RehearseAsync(brief, takes, recordings, cancellation).ConfigureAwait(false);

        progress?.Report("render times");
        (IReadOnlyList<JobFacts> jobs, ModelFacts model) = await predicting.ConfigureAwait(false);

        PreparedStudy study = new(brief, takes, strands, recordings, offload, jobs, sizes.Mezzanine, rehearsals, model) { OffloadWithOneMoreStation = oneMore };
        progress?.Report("farm, simulated");
        return study with { Calibrations = await new FarmCalls(services).CalibrateAsync(study, progress, cancellation).ConfigureAwait(false) };
    }

    private async Task<(IReadOnlyList<JobFacts> Jobs, ModelFacts Model)> PredictAsync(Brief brief, FrameSizes sizes, BenchmarkFile? benchmarks, CancellationToken cancellation)
    {
        if (learning is not null)
        {
            // Where it failed, the same calls below fail too and say why.
            await learning.ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default).WaitAsync(cancellation).ConfigureAwait(false);
        }

        return await new RenderTimeCalls(services).PredictAsync(brief, sizes, benchmarks, cancellation).ConfigureAwait(false);
    }

    private static long MostFrames(IReadOnlyList<RecordingFacts> recordings, int camera, int recording)
    {
        RecordingFacts facts = recordings.First(r => r.Camera == camera && r.Recording == recording);
        return facts.Kind == "burst" ? Math.Max(1, facts.BurstFrames) : long.MaxValue;
    }

    private static List<Strand> Strands(Brief brief, IReadOnlyList<PlannedTake> takes, IReadOnlyList<RecordingFacts> recordings)
    {
        ILookup<(int, int), PlannedTake> byStrand = takes.ToLookup(t => (t.Camera, t.Recording));
        return [.. recordings.Select(r => new Strand(
            r.Camera,
            brief.Shoot.Units.Select((u, i) => (u, i)).First(u => u.u.Name == brief.Shoot.Cameras[r.Camera].Unit).i,
            brief.Shoot.Cameras[r.Camera].Recordings[r.Recording],
            brief.Shoot.Days,
            r.BytesPerFrame,
            byStrand[(r.Camera, r.Recording)]))];
    }
}
