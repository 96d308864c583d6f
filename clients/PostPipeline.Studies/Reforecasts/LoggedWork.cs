using NodaTime;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>
/// What the log says beside bytes, and what it does to the outcomes: minutes to all that hangs on hours, farm seconds to
/// render times, problem events to the conform. Frames rendered and events conformed are facts; the rest is multiplied by
/// the blend, whose spread stands in the place of the plan's own.
/// </summary>
/// <param name="Minutes">The blend of recorded minutes a day; null where the log is silent.</param>
/// <param name="Seconds">The blend of node-seconds a farm frame; null where the log is silent.</param>
/// <param name="Problems">The blend of problem events; null where the log is silent.</param>
/// <param name="HoursPerByte">Recorded hours over bytes against the plan, of the whole shoot; 1 where the log has no minutes.</param>
/// <param name="FramesDone">Share of the shoot's frames that the farm has done, 0 to 1.</param>
/// <param name="EventsDone">Share of the cut's events that have been conformed, 0 to 1.</param>
internal sealed record LoggedWork(Blend? Minutes, Blend? Seconds, Blend? Problems, double HoursPerByte, double FramesDone, double EventsDone)
{
    // From P10 to P90 of a normal distribution lie so many standard deviations.
    private static readonly double TenToNinety = 2 * NormalDistribution.Quantile(0.9);

    public static LoggedWork Of(StudyModel model, Baseline baseline, IReadOnlyList<LogDay> log, VolumeForecast volume)
    {
        (Blend? minutes, double hoursPerByte) = MinutesOf(baseline, log, volume);
        LogDay[] rendered = [.. log.Where(d => d.FarmFrames > 0 && !double.IsNaN(d.FarmSeconds))];
        Blend? seconds = rendered.Length == 0 || double.IsNaN(baseline.SecondsPerFrame) ? null
            : ByDay(rendered, d => d.FarmFrames * baseline.SecondsPerFrame, d => d.FarmSeconds, model.Study.Jobs.Max(j => j.LogDeviation));
        LogDay[] conformed = [.. log.Where(d => d.EventsConformed > 0 && !double.IsNaN(d.ProblemEvents))];
        Blend? problems = conformed.Length == 0 || baseline.ProblemShare <= 0 ? null
            : ByDay(conformed, d => d.EventsConformed * baseline.ProblemShare, d => d.ProblemEvents, ProblemSpread(model, baseline));
        double frames = model.Study.Strands.Sum(s => (double)s.TotalFrames) * Over(volume.Total.P50, baseline.Days.Sum(d => d.Bytes)) * hoursPerByte;
        double events = model.Inputs.Inputs[model.Inputs.PlaceOf("edit.events_per_minute")].Likely * model.Study.Brief.Edit.FinishedSeconds / 60 * model.Study.Brief.Edit.Tracks;
        return new(minutes, seconds, problems, hoursPerByte, Done(rendered.Sum(d => d.FarmFrames), frames), Done(conformed.Sum(d => d.EventsConformed), events));
    }

    /// <summary>
    /// Outcomes with what was seen blended in. The days seen are facts and the rest is scaled, so all hours of a draw are
    /// scaled to one total of the forecast; the forecast's spread stands in the place of the hours' own.
    /// </summary>
    public (PipelineOutcome[] Outcomes, IReadOnlyList<OccupancyByDay> Occupancy) Outcomes(StudyModel model, Baseline baseline, VolumeForecast volume, int draws, int threads)
    {
        double planned = baseline.Days.Sum(d => d.Bytes);
        double deviation = (volume.Total.P90 - volume.Total.P50) / NormalDistribution.Quantile(0.9);
        double[] factors = [.. Normals("re-forecast total").Select(z => planned > 0 ? Math.Max(volume.SoFar, volume.Total.P50 + (deviation * z)) / planned : 1)];
        int[] hours = [.. model.Study.Strands.Select(s => model.Inputs.PlaceOf(s.Recording.HoursPerDay.Key)).Distinct()];
        DrawSet set = DrawSet.Sample(model.Inputs, draws, baseline.Seed, threads).With(hours, (place, draw) => model.Inputs.Inputs[place].Likely * factors[draw] * HoursPerByte);
        List<Change> changes = [];
        if (Minutes is not null)
        {
            changes.Add(Change.Fix("shoot.bytes_per_hour", 1 / HoursPerByte));
        }

        if (Seconds is { } seconds)
        {
            double[] drawn = [.. Normals("re-forecast seconds").Select(seconds.Drawn)];
            Dictionary<int, double> done = model.Study.Jobs.Select(j => j.Kind).Distinct()
                .ToDictionary(k => model.Inputs.PlaceOf(FarmWork.ErrorInput(k)), k => k is "transcode" or "proxy" ? FramesDone : 0);
            set = set.With([.. done.Keys], (place, draw) => (done[place] * seconds.Ratio) + ((1 - done[place]) * drawn[draw]));
        }

        if (Problems is { } problems)
        {
            double[] drawn = [.. Normals("re-forecast problems").Select(problems.Drawn)];
            changes.Add(Change.Fix("finish.problem_share", model.Inputs.Inputs[model.Inputs.PlaceOf("finish.problem_share")].Likely));
            set = set.With([model.Inputs.PlaceOf("finish.problem_factor")], (_, draw) => (EventsDone * problems.Ratio) + ((1 - EventsDone) * drawn[draw]));
        }

        Evaluation evaluation = model.Evaluate(set, changes, threads, detail: true);
        return ([.. evaluation.Pipelines.Select((_, i) => Compare.Outcome(model, evaluation, i))], OccupancyByDay.Of(set, changes, evaluation));

        IEnumerable<double> Normals(string name) => Enumerable.Range(0, draws).Select(draw =>
        {
            RandomStream stream = new(baseline.Seed, RandomPurpose.Inputs, draw, DrawSet.NameHash(name));
            return stream.NextNormal();
        });
    }

    // Days that the log has bytes of and no minutes are forecast like the days to come.
    private static (Blend? Minutes, double HoursPerByte) MinutesOf(Baseline baseline, IReadOnlyList<LogDay> log, VolumeForecast volume)
    {
        Dictionary<(LocalDate, string), double> planned = baseline.Days.ToDictionary(d => (d.Date, d.Unit), d => d.Minutes);
        LogDay[] timed = [.. log.Where(d => !double.IsNaN(d.Minutes) && planned.ContainsKey((d.Date, d.Unit)))];
        if (timed.Length == 0)
        {
            return (null, 1);
        }

        Blend blend = ByDay(timed, d => planned[(d.Date, d.Unit)], d => d.Minutes, baseline.DaySpread);
        double whole = planned.Values.Sum();
        double rest = whole - timed.Sum(d => planned[(d.Date, d.Unit)]);
        double hours = Over(blend.Total(timed.Sum(d => d.Minutes), [rest]), whole);
        double bytes = Over(volume.Total.P50, baseline.Days.Sum(d => d.Bytes));
        return (blend, hours > 0 && bytes > 0 ? hours / bytes : 1);
    }

    private static Blend ByDay(LogDay[] log, Func<LogDay, double> planned, Func<LogDay, double> actual, double deviation)
    {
        IGrouping<LocalDate, LogDay>[] days = [.. log.GroupBy(d => d.Date).OrderBy(g => g.Key)];
        return Blend.Of([.. days.Select(g => g.Sum(planned))], [.. days.Select(g => g.Sum(actual))], deviation);
    }

    // Relative to all problems planned, since the factor multiplies all of them.
    private static double ProblemSpread(StudyModel model, Baseline baseline)
    {
        int place = model.Inputs.PlaceOf("finish.problem_share");
        QuantileTable table = model.Inputs.Table(place);
        return model.Inputs.Inputs[place].IsConstant ? 0 : Math.Min(100, (table.At(0.9) - table.At(0.1)) / TenToNinety / baseline.ProblemShare);
    }

    private static double Over(double value, double planned) => planned > 0 ? value / planned : 1;

    private static double Done(double done, double all) => all > 0 ? Math.Clamp(done / all, 0, 1) : 0;
}
