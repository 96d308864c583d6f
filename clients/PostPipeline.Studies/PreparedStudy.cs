using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies;

/// <summary>
/// What the services answered about a brief: all that composition and draws need, so that they make no calls.
/// </summary>
/// <param name="Brief">The brief.</param>
/// <param name="Takes">The planned takes.</param>
/// <param name="Strands">The takes summed by camera, recording and day.</param>
/// <param name="Recordings">How each camera records each of its modes.</param>
/// <param name="Offload">Offload of each unit and day at several amounts of material.</param>
/// <param name="Jobs">Seconds per frame by kind of work.</param>
/// <param name="MezzanineBytesPerFrame">Bytes of a frame of the mezzanine.</param>
/// <param name="Rehearsals">The conform rehearsal by source of proxies: in-camera, in-post.</param>
/// <param name="Model">What the render-time model says about itself.</param>
public sealed record PreparedStudy(
    Brief Brief,
    IReadOnlyList<PlannedTake> Takes,
    IReadOnlyList<Strand> Strands,
    IReadOnlyList<RecordingFacts> Recordings,
    OffloadFacts Offload,
    IReadOnlyList<JobFacts> Jobs,
    long MezzanineBytesPerFrame,
    IReadOnlyDictionary<string, RehearsalFacts> Rehearsals,
    ModelFacts Model)
{
    /// <summary>Calibration of the farm's fluid model by stage; filled by the last round of calls.</summary>
    public IReadOnlyDictionary<string, FarmCalibration> Calibrations { get; init; } = new Dictionary<string, FarmCalibration>();

    /// <summary>Offload with one more station a unit, for what that buys; null where it was not asked.</summary>
    public OffloadFacts? OffloadWithOneMoreStation { get; init; }

    /// <summary>The job of a kind.</summary>
    /// <param name="kind">See <see cref="JobFacts"/>.</param>
    /// <param name="mode">The mode's name; empty for work on finished frames.</param>
    public JobFacts Job(string kind, string mode) => Jobs.First(j => j.Kind == kind && j.Mode == mode);
}
