using NodaTime;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>The next shoot day of each unit that works on it, and what is left for it.</summary>
internal static class NextDay
{
    public static IReadOnlyList<Tomorrow> Of(StudyModel model, Baseline baseline, VolumeForecast volume, LocalDate seen)
    {
        LocalDate? next = baseline.Days.Where(d => d.Date > seen).Select(d => (LocalDate?)d.Date).Min();
        Brief brief = model.Study.Brief;
        int place = brief.Shoot.Dates().Select((d, i) => (d, i)).Where(p => p.d == next).Select(p => p.i).DefaultIfEmpty(-1).First();
        if (place < 0)
        {
            return [];
        }

        double factor = volume.Bytes.Factor;
        PlannedDay[] days = [.. baseline.Days.Where(d => d.Date == next)];
        IReadOnlyList<Supply> supplies = Supplies(model, volume, factor * days.Sum(d => d.Bytes));
        List<Tomorrow> tomorrow = [];
        foreach (PlannedDay day in days)
        {
            int unit = brief.Shoot.Units.Select((u, i) => (u, i)).Where(p => p.u.Name == day.Unit).Select(p => p.i).DefaultIfEmpty(-1).First();
            if (unit < 0)
            {
                continue;
            }

            (Camera Camera, double Bytes)[] cameras = [.. brief.Shoot.Cameras.Select((c, i) => (c, model.Study.Strands.Where(s => s.Camera == i).Sum(s => (double)s.Bytes[place]) * factor))
                .Where(p => p.c.Unit == day.Unit).OrderByDescending(p => p.Item2)];
            int cards = (int)cameras.Sum(c => Math.Ceiling(c.Bytes / c.Camera.Card.Size.Bytes));
            tomorrow.Add(new(day.Date, day.Unit, day.Bytes * factor, cards, model.Study.Offload.EndAt(unit, place, factor), cameras.Length > 0 ? cameras[0].Camera.Letter : string.Empty)
            {
                Supplies = supplies,
            });
        }

        return tomorrow;
    }

    // Cards come back and are used again, so the most at once counts; drives, tiers and tapes fill up.
    private static List<Supply> Supplies(StudyModel model, VolumeForecast volume, double bytes)
    {
        Brief brief = model.Study.Brief;
        List<Supply> supplies = [];
        foreach (IGrouping<string, (Camera Camera, int Place)> kind in brief.Shoot.Cameras.Select((c, i) => (Camera: c, Place: i)).Where(c => c.Camera.Card.Count is not null).GroupBy(c => c.Camera.Card.Name))
        {
            supplies.Add(new($"cards '{kind.Key}'", kind.First().Camera.Card.Count!.Value, kind.Sum(c => model.Study.Offload.CardsAt(c.Place, volume.Bytes.Factor)), false, null));
        }

        for (int copy = 0; copy < brief.Offload.Destinations.Count; copy++)
        {
            if (brief.Offload.Destinations[copy] is { Size: { } size } destination)
            {
                double left = ((double)size.Bytes * destination.Count) - volume.SoFar;
                supplies.Add(new($"drives of copy {copy + 1}", left, bytes, true, Whole(left - bytes, size.Bytes)));
            }
        }

        if (brief.Storage.Nearline.Capacity is not null)
        {
            supplies.Add(new("nearline", brief.Storage.Nearline.UsableBytes - volume.SoFar, bytes, true, null));
        }

        if (brief.Storage.TapeCopies > 0)
        {
            double tape = brief.Storage.TapeSize.Bytes * brief.Storage.TapeFill;
            double ordered = Math.Ceiling(model.Study.Strands.Sum(s => (double)s.TotalBytes) / tape) * tape;
            supplies.Add(new("tapes of a set, as ordered for the plan", ordered - volume.SoFar, bytes, true, Whole(ordered - volume.SoFar - bytes, tape)));
        }

        return supplies;
    }

    private static int Whole(double bytes, double piece) => (int)Math.Max(0, Math.Floor(bytes / Math.Max(1, piece)));
}
