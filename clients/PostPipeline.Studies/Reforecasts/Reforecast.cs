using NodaTime;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>What the log says about the rest: totals, dates, alerts, and tomorrow.</summary>
public sealed record Reforecast
{
    /// <summary>The last day that the log knows.</summary>
    public required LocalDate Seen { get; init; }

    /// <summary>Bytes recorded so far: a fact.</summary>
    public required double BytesSoFar { get; init; }

    /// <summary>Bytes of the days seen, as planned.</summary>
    public required double PlannedSoFar { get; init; }

    /// <summary>The day from which on the median forecast has lain outside the plan's P10–P90; null while it lies inside.</summary>
    public required LocalDate? LeftBand { get; init; }

    /// <summary>The blend of bytes a day.</summary>
    public required Blend Bytes { get; init; }

    /// <summary>The blend of recorded minutes a day; null where the log is silent.</summary>
    public required Blend? Minutes { get; init; }

    /// <summary>The blend of node-seconds a farm frame; null where the log is silent.</summary>
    public required Blend? SecondsPerFrame { get; init; }

    /// <summary>The blend of problem events; null where the log is silent.</summary>
    public required Blend? ProblemEvents { get; init; }

    /// <summary>Cameras that rolled, summed over the days seen; null where the log is silent. It informs only.</summary>
    public required double? CameraDays { get; init; }

    /// <summary>Clips so far; null where the log is silent. It informs only.</summary>
    public required double? Clips { get; init; }

    /// <summary>All bytes at the end of the shoot.</summary>
    public required Outcomes.Range TotalBytes { get; init; }

    /// <summary>Outcomes with what was seen blended in, in the brief's order.</summary>
    public required IReadOnlyList<PipelineOutcome> Pipelines { get; init; }

    /// <summary>Lines crossed.</summary>
    public required IReadOnlyList<Alert> Alerts { get; init; }

    /// <summary>Tomorrow's units.</summary>
    public required IReadOnlyList<Tomorrow> Tomorrow { get; init; }

    /// <summary>Re-forecasts.</summary>
    /// <param name="model">The model of the present brief.</param>
    /// <param name="baseline">The frozen plan.</param>
    /// <param name="log">The log, at least one row.</param>
    /// <param name="draws">Draws.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    public static Reforecast Of(StudyModel model, Baseline baseline, IReadOnlyList<LogDay> log, int draws = Compare.UsualDraws, int threads = 1)
    {
        if (log.Count == 0)
        {
            throw new ArgumentException("The log has no row; at least one day is needed.", nameof(log));
        }

        LocalDate seen = log.Max(d => d.Date);
        VolumeForecast volume = VolumeForecast.Of(baseline, log);
        LoggedWork work = LoggedWork.Of(model, baseline, log, volume);
        (PipelineOutcome[] outcomes, IReadOnlyList<OccupancyByDay> occupancy) = work.Outcomes(model, baseline, volume, draws, threads);
        LocalDate? left = VolumeForecast.LeftBand(baseline, log);
        return new()
        {
            Seen = seen,
            BytesSoFar = volume.SoFar,
            PlannedSoFar = volume.PlannedSoFar,
            LeftBand = left,
            Bytes = volume.Bytes,
            Minutes = work.Minutes,
            SecondsPerFrame = work.Seconds,
            ProblemEvents = work.Problems,
            CameraDays = Known(log, d => d.Cameras),
            Clips = Known(log, d => d.Clips),
            TotalBytes = volume.Total,
            Pipelines = outcomes,
            Alerts = new AlertBook(model, baseline, volume, seen).Of(left, outcomes, occupancy),
            Tomorrow = NextDay.Of(model, baseline, volume, seen),
        };
    }

    private static double? Known(IReadOnlyList<LogDay> log, Func<LogDay, double> column) =>
        log.Select(column).Where(v => !double.IsNaN(v)).ToArray() is { Length: > 0 } known ? known.Sum() : null;
}
