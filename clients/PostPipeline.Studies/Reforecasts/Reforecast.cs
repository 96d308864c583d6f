using NodaTime;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;

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
        LocalDate[] days = [.. log.Select(d => d.Date).Distinct().Order()];
        double Planned(LocalDate date) => log.Where(d => d.Date == date).Sum(d => planned.TryGetValue((d.Date, d.Unit), out PlannedDay? plan) ? plan.Bytes : 0);
        Blend bytes = Blend.Of([.. days.Select(Planned)], [.. days.Select(d => log.Where(l => l.Date == d).Sum(l => l.Bytes))], baseline.DaySpread);
        LogDay[] timed = [.. log.Where(d => !double.IsNaN(d.Minutes) && planned.ContainsKey((d.Date, d.Unit)))];
        Blend? minutes = timed.Length == 0 ? null : Blend.Of([.. timed.Select(d => planned[(d.Date, d.Unit)].Minutes)], [.. timed.Select(d => d.Minutes)], baseline.DaySpread);
        LogDay[] rendered = [.. log.Where(d => d.FarmFrames > 0 && !double.IsNaN(d.FarmSeconds))];
        Blend? seconds = rendered.Length == 0 || double.IsNaN(baseline.SecondsPerFrame) ? null
            : Blend.Of([.. rendered.Select(d => d.FarmFrames * baseline.SecondsPerFrame)], [.. rendered.Select(d => d.FarmSeconds)], 0.35);
        LogDay[] conformed = [.. log.Where(d => d.EventsConformed > 0 && !double.IsNaN(d.ProblemEvents))];
        Blend? problems = conformed.Length == 0 || baseline.ProblemShare <= 0 ? null
            : Blend.Of([.. conformed.Select(d => d.EventsConformed * baseline.ProblemShare)], [.. conformed.Select(d => d.ProblemEvents)], 1);

        double[] remaining = [.. baseline.Days.Where(d => d.Date > seen).GroupBy(d => d.Date).Select(g => g.Sum(d => d.Bytes))];
        double soFar = log.Sum(d => d.Bytes);
        double total = bytes.Total(soFar, remaining);
        double deviation = bytes.TotalDeviation(remaining);
        double z = NormalDistribution.Quantile(0.9);
        Outcomes.Range range = new(Math.Max(soFar, total - (z * deviation)), total, total + (z * deviation));

        PipelineOutcome[] outcomes = OutcomesOf(model, baseline, soFar, range, seconds, problems, draws, threads);
        return new()
        {
            Seen = seen,
            BytesSoFar = soFar,
            PlannedSoFar = days.Sum(Planned),
            Bytes = bytes,
            Minutes = minutes,
            SecondsPerFrame = seconds,
            ProblemEvents = problems,
            TotalBytes = range,
            Pipelines = outcomes,
            Alerts = AlertsOf(model, baseline, bytes, seen, soFar, range, outcomes),
            Tomorrow = TomorrowOf(model, baseline, bytes, seen),
        };
    }

    // The days seen are facts and the rest is scaled, so all hours of a draw are scaled to one total of the forecast; the
    // forecast's spread stands in the place of the hours' own, and reaches dates, storage and money.
    private static PipelineOutcome[] OutcomesOf(
        StudyModel model, Baseline baseline, double soFar, Outcomes.Range total, Blend? seconds, Blend? problems, int draws, int threads)
    {
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

        Evaluation evaluation = model.Evaluate(set, changes, threads);
        return [.. evaluation.Pipelines.Select((_, i) => Compare.Outcome(model, evaluation, i))];
    }

    private static List<Alert> AlertsOf(StudyModel model, Baseline baseline, Blend bytes, LocalDate seen, double soFar, Outcomes.Range total, PipelineOutcome[] outcomes)
    {
        Brief brief = model.Study.Brief;
        List<Alert> alerts = [];
        if (total.P50 > baseline.TotalBytes.P90 || total.P50 < baseline.TotalBytes.P10)
        {
            alerts.Add(new("plan left", string.Empty, $"the forecast of {Numbers.Size(total.P50)} lies outside the plan's P10–P90 of {Numbers.Size(baseline.TotalBytes.P10)} to {Numbers.Size(baseline.TotalBytes.P90)}"));
        }

        double tape = brief.Storage.TapeSize.Bytes * brief.Storage.TapeFill;
        double planned = baseline.Days.Sum(d => d.Bytes);
        (string Name, double Line)[] lines =
        [
            ("nearline full", brief.Storage.Nearline.UsableBytes),
            ("originals alone fill the online tier", brief.Storage.Online.UsableBytes),
            ("tapes ordered for the plan run out", brief.Storage.TapeCopies > 0 ? Math.Ceiling(planned / tape) * tape : double.PositiveInfinity),
        ];
        foreach ((string name, double line) in lines.Where(l => double.IsFinite(l.Line)))
        {
            double held = soFar;
            if (held > line)
            {
                alerts.Add(new(name, seen.ToString("uuuu-MM-dd", null), $"{Numbers.Size(held)} stand against {Numbers.Size(line)} already"));
                continue;
            }

            foreach (IGrouping<LocalDate, PlannedDay> day in baseline.Days.Where(d => d.Date > seen).GroupBy(d => d.Date))
            {
                held += bytes.Factor * day.Sum(d => d.Bytes);
                if (held > line)
                {
                    alerts.Add(new(name, day.Key.ToString("uuuu-MM-dd", null), $"by the median forecast {Numbers.Size(held)} stand against {Numbers.Size(line)}"));
                    break;
                }
            }
        }

        foreach (PipelineOutcome outcome in outcomes)
        {
            if (outcome.Delivery.P50 > model.Due)
            {
                alerts.Add(new($"{outcome.Name} late", model.Clock.DateText(outcome.Delivery.P50), $"the median delivery lies after {model.Clock.Text(model.Due)}"));
            }

            alerts.AddRange(outcome.Gates.Where(g => g.State == GateState.Fails && g.Name != "date").Select(g => new Alert($"{outcome.Name}: {g.Name}", string.Empty, g.Says)));
        }

        return alerts;
    }

    private static List<Tomorrow> TomorrowOf(StudyModel model, Baseline baseline, Blend bytes, LocalDate seen)
    {
        LocalDate? next = baseline.Days.Where(d => d.Date > seen).Select(d => (LocalDate?)d.Date).Min();
        Brief brief = model.Study.Brief;
        IReadOnlyList<LocalDate> dates = brief.Shoot.Dates();
        List<Tomorrow> tomorrow = [];
        foreach (PlannedDay day in baseline.Days.Where(d => d.Date == next))
        {
            int unit = brief.Shoot.Units.Select((u, i) => (u, i)).Where(p => p.u.Name == day.Unit).Select(p => p.i).DefaultIfEmpty(-1).First();
            int place = dates.Select((d, i) => (d, i)).Where(p => p.d == day.Date).Select(p => p.i).DefaultIfEmpty(-1).First();
            if (unit < 0 || place < 0)
            {
                continue;
            }

            double end = model.Study.Offload.EndAt(unit, place, bytes.Factor);
            (Camera Camera, double Bytes)[] cameras = [.. brief.Shoot.Cameras.Select((c, i) => (c, model.Study.Strands.Where(s => s.Camera == i).Sum(s => (double)s.Bytes[place]) * bytes.Factor))
                .Where(p => p.c.Unit == day.Unit).OrderByDescending(p => p.Item2)];
            int cards = (int)cameras.Sum(c => Math.Ceiling(c.Bytes / c.Camera.Card.Size.Bytes));
            tomorrow.Add(new(day.Date, day.Unit, day.Bytes * bytes.Factor, cards, end, cameras.Length > 0 ? cameras[0].Camera.Letter : string.Empty));
        }

        return tomorrow;
    }
}
