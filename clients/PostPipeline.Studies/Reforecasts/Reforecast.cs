using NodaTime;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Inputs;
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

    /// <summary>The blend of recorded minutes a unit-day; null where the log is silent.</summary>
    public required Blend? Minutes { get; init; }

    /// <summary>The blend of node-seconds a farm frame; null where the log is silent.</summary>
    public required Blend? SecondsPerFrame { get; init; }

    /// <summary>The blend of problem events; null where the log is silent.</summary>
    public required Blend? ProblemEvents { get; init; }

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
        Dictionary<(LocalDate, string), PlannedDay> planned = baseline.Days.ToDictionary(d => (d.Date, d.Unit));
        VolumeForecast volume = VolumeForecast.Of(baseline, log);
        Blend bytes = volume.Bytes;
        LogDay[] timed = [.. log.Where(d => !double.IsNaN(d.Minutes) && planned.ContainsKey((d.Date, d.Unit)))];
        Blend? minutes = timed.Length == 0 ? null : Blend.Of([.. timed.Select(d => planned[(d.Date, d.Unit)].Minutes)], [.. timed.Select(d => d.Minutes)], baseline.DaySpread);
        LogDay[] rendered = [.. log.Where(d => d.FarmFrames > 0 && !double.IsNaN(d.FarmSeconds))];
        Blend? seconds = rendered.Length == 0 || double.IsNaN(baseline.SecondsPerFrame) ? null
            : Blend.Of([.. rendered.Select(d => d.FarmFrames * baseline.SecondsPerFrame)], [.. rendered.Select(d => d.FarmSeconds)], 0.35);
        LogDay[] conformed = [.. log.Where(d => d.EventsConformed > 0 && !double.IsNaN(d.ProblemEvents))];
        Blend? problems = conformed.Length == 0 || baseline.ProblemShare <= 0 ? null
            : Blend.Of([.. conformed.Select(d => d.EventsConformed * baseline.ProblemShare)], [.. conformed.Select(d => d.ProblemEvents)], 1);

        (PipelineOutcome[] outcomes, IReadOnlyList<OccupancyByDay> occupancy) = OutcomesOf(model, baseline, volume, seconds, problems, draws, threads);
        LocalDate? left = VolumeForecast.LeftBand(baseline, log);
        return new()
        {
            Seen = seen,
            BytesSoFar = volume.SoFar,
            PlannedSoFar = volume.PlannedSoFar,
            LeftBand = left,
            Bytes = bytes,
            Minutes = minutes,
            SecondsPerFrame = seconds,
            ProblemEvents = problems,
            TotalBytes = volume.Total,
            Pipelines = outcomes,
            Alerts = new AlertBook(model, baseline, volume, seen).Of(left, outcomes, occupancy),
            Tomorrow = NextDay.Of(model, baseline, volume, seen),
        };
    }

    // The days seen are facts and the rest is scaled, so all hours of a draw are scaled to one total of the forecast; the
    // forecast's spread stands in the place of the hours' own, and reaches dates, storage and money.
    private static (PipelineOutcome[] Outcomes, IReadOnlyList<OccupancyByDay> Occupancy) OutcomesOf(
        StudyModel model, Baseline baseline, VolumeForecast volume, Blend? seconds, Blend? problems, int draws, int threads)
    {
        (double soFar, Outcomes.Range total) = (volume.SoFar, volume.Total);
        double planned = baseline.Days.Sum(d => d.Bytes);
        double deviation = (total.P90 - total.P50) / NormalDistribution.Quantile(0.9);
        double[] factors = new double[draws];
        for (int draw = 0; draw < draws; draw++)
        {
            RandomStream stream = new(baseline.Seed, RandomPurpose.Inputs, draw, DrawSet.NameHash("re-forecast total"));
            factors[draw] = planned > 0 ? Math.Max(soFar, total.P50 + (deviation * stream.NextNormal())) / planned : 1;
        }

        int[] hours = [.. model.Study.Strands.Select(s => model.Inputs.PlaceOf(s.Recording.HoursPerDay.Key)).Distinct()];
        DrawSet set = DrawSet.Sample(model.Inputs, draws, baseline.Seed, threads).With(hours, (place, draw) => model.Inputs.Inputs[place].Likely * factors[draw]);
        List<Change> changes = [];
        if (seconds is not null)
        {
            changes.AddRange(model.Study.Jobs.Select(j => j.Kind).Distinct().Select(k => Change.Scale(Stages.FarmWork.ErrorInput(k), seconds.Factor)));
        }

        if (problems is not null)
        {
            changes.Add(Change.Scale("finish.problem_share", problems.Factor));
        }

        Evaluation evaluation = model.Evaluate(set, changes, threads, detail: true);
        return ([.. evaluation.Pipelines.Select((_, i) => Compare.Outcome(model, evaluation, i))], OccupancyByDay.Of(set, changes, evaluation));
    }
}
