using PostPipeline.Client;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Preparing;

/// <summary>
/// The rounds of calls between a brief and its composition. Rates and burst windows come first, because a take of a
/// burst mode is no longer than its window; then takes (pure), offload, predictions, rehearsal, and last the farm's
/// event simulation on what the earlier rounds gave. No round feeds an earlier one.
/// </summary>
public sealed class Preparation(SuiteClients services)
{
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

        progress?.Report("takes");
        IReadOnlyList<PlannedTake> takes = TakeExpansion.Expand(brief, (camera, recording) => MostFrames(recordings, camera, recording), cancellation);
        IReadOnlyList<Strand> strands = Strands(brief, takes, recordings);

        progress?.Report("offload, card by card");
        OffloadCalls offloads = new(services);
        OffloadFacts offload = await offloads.SimulateAsync(brief, takes, recordings, brief.Offload.Stations, cancellation).ConfigureAwait(false);
        OffloadFacts oneMore = await offloads.SimulateAsync(brief, takes, recordings, brief.Offload.Stations + 1, cancellation).ConfigureAwait(false);

        progress?.Report("render times");
        (IReadOnlyList<JobFacts> jobs, ModelFacts model) = await new RenderTimeCalls(services).PredictAsync(brief, sizes, benchmarks, cancellation).ConfigureAwait(false);

        progress?.Report("conform rehearsal");
        IReadOnlyDictionary<string, RehearsalFacts> rehearsals = await new RehearsalCalls(services).RehearseAsync(brief, takes, recordings, cancellation).ConfigureAwait(false);

        PreparedStudy study = new(brief, takes, strands, recordings, offload, jobs, sizes.Mezzanine, rehearsals, model) { OffloadWithOneMoreStation = oneMore };
        progress?.Report("farm, simulated");
        return study with { Calibrations = await new FarmCalls(services).CalibrateAsync(study, progress, cancellation).ConfigureAwait(false) };
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
