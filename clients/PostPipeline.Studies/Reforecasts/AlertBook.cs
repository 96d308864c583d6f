using System.Globalization;
using NodaTime;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>Looks for lines that are or will be crossed by the median forecast, each with its day.</summary>
internal sealed class AlertBook(StudyModel model, Baseline baseline, VolumeForecast volume, LocalDate seen)
{
    private readonly Brief brief = model.Study.Brief;
    private readonly List<Alert> alerts = [];

    public IReadOnlyList<Alert> Of(LocalDate? leftBand, IReadOnlyList<PipelineOutcome> outcomes, IReadOnlyList<OccupancyByDay> occupancy)
    {
        if (leftBand is { } left)
        {
            alerts.Add(new("plan left", Text(left), $"since then the forecast, now {Numbers.Size(volume.Total.P50)}, has lain outside the plan's P10–P90 of {Numbers.Size(baseline.TotalBytes.P10)} to {Numbers.Size(baseline.TotalBytes.P90)}"));
        }

        double tape = brief.Storage.TapeSize.Bytes * brief.Storage.TapeFill;
        double planned = baseline.Days.Sum(d => d.Bytes);
        Fill("nearline full", brief.Storage.Nearline.UsableBytes);
        Fill("originals alone fill the online tier", brief.Storage.Online.UsableBytes);
        Fill("tapes ordered for the plan run out", brief.Storage.TapeCopies > 0 ? Math.Ceiling(planned / tape) * tape : double.PositiveInfinity);
        for (int copy = 0; copy < brief.Offload.Destinations.Count; copy++)
        {
            Destination destination = brief.Offload.Destinations[copy];
            Fill($"drives of copy {copy + 1} full", destination.Size is { } size ? (double)size.Bytes * destination.Count : double.PositiveInfinity);
        }

        Cards();
        foreach ((PipelineOutcome outcome, OccupancyByDay days) in outcomes.Zip(occupancy))
        {
            if (outcome.Delivery.P50 > model.Due)
            {
                alerts.Add(new($"{outcome.Name} late", model.Clock.DateText(outcome.Delivery.P50), $"the median delivery lies after {model.Clock.Text(model.Due)}"));
            }

            alerts.AddRange(outcome.Gates.Where(g => g.State == GateState.Fails && g.Name is not ("date" or "cards")).Select(g => new Alert($"{outcome.Name}: {g.Name}", DayOf(g, days), g.Says)));
        }

        return alerts;
    }

    private static string Text(LocalDate date) => date.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture);

    // What the recorded originals fill, day by day.
    private void Fill(string name, double line)
    {
        if (!double.IsFinite(line))
        {
            return;
        }

        double held = volume.SoFar;
        if (held > line)
        {
            alerts.Add(new(name, Text(seen), $"{Numbers.Size(held)} stand against {Numbers.Size(line)} already"));
            return;
        }

        foreach (IGrouping<LocalDate, PlannedDay> day in baseline.Days.Where(d => d.Date > seen).GroupBy(d => d.Date))
        {
            held += volume.Bytes.Factor * day.Sum(d => d.Bytes);
            if (held > line)
            {
                alerts.Add(new(name, Text(day.Key), $"by the median forecast {Numbers.Size(held)} stand against {Numbers.Size(line)}"));
                return;
            }
        }
    }

    // The most cards in use at once belong to each camera's heaviest day, so that is the day that is named.
    private void Cards()
    {
        IReadOnlyList<LocalDate> dates = brief.Shoot.Dates();
        foreach (IGrouping<string, (Camera Camera, int Place)> kind in brief.Shoot.Cameras.Select((c, i) => (Camera: c, Place: i)).Where(c => c.Camera.Card.Count is not null).GroupBy(c => c.Camera.Card.Name))
        {
            double owned = kind.First().Camera.Card.Count!.Value;
            double needed = kind.Sum(c => model.Study.Offload.CardsAt(c.Place, volume.Bytes.Factor));
            int[] ahead = [.. Enumerable.Range(0, dates.Count).Where(d => dates[d] > seen)];
            if (needed > owned && ahead.Length > 0)
            {
                int heaviest = ahead.MaxBy(d => kind.Sum(c => model.Study.Strands.Where(s => s.Camera == c.Place).Sum(s => (double)s.Bytes[d])));
                alerts.Add(new($"cards '{kind.Key}' run out", Text(dates[heaviest]), $"the heaviest day ahead has {Numbers.Three(needed)} in use at once, spares included, of {Numbers.Three(owned)}"));
            }
        }
    }

    // A tier is too small from the moment its median passes what may be stored; rest is short on the first day that ends too
    // late; other gates are not bound to a day.
    private string DayOf(Gate gate, OccupancyByDay days)
    {
        (IReadOnlyList<OccupancyDay> Curve, double Usable)? tier = gate.Name switch
        {
            "online capacity" => (days.Online, brief.Storage.Online.UsableBytes),
            "nearline capacity" => (days.Nearline, brief.Storage.Nearline.UsableBytes),
            _ => null,
        };
        if (tier is { } t)
        {
            OccupancyDay? crossed = t.Curve.FirstOrDefault(d => d.Bytes.P50 > t.Usable) ?? t.Curve.FirstOrDefault(d => d.Bytes.P90 > t.Usable);
            return crossed is null ? string.Empty : model.Clock.DateText(crossed.Seconds);
        }

        return gate.Name == "rest" ? ShortRest() : string.Empty;
    }

    private string ShortRest()
    {
        IReadOnlyList<LocalDate> dates = brief.Shoot.Dates();
        for (int day = 0; day < dates.Count - 1; day++)
        {
            for (int unit = 0; unit < brief.Shoot.Units.Count && dates[day] > seen; unit++)
            {
                ShootUnit plan = brief.Shoot.Units[unit];
                bool works = day >= plan.FirstDay - 1 && day + 1 < plan.FirstDay - 1 + plan.Days;
                if (works && model.Clock.At(dates[day + 1], plan.Call) - (model.Clock.MidnightOf(dates[day], plan) + model.Study.Offload.EndAt(unit, day, volume.Bytes.Factor)) < brief.Offload.RestSeconds)
                {
                    return Text(dates[day]);
                }
            }
        }

        return string.Empty;
    }
}
