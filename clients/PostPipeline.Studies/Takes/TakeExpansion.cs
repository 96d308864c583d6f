using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Takes;

/// <summary>
/// Expands a shoot into takes: days × units × cameras × modes. Days differ, takes differ, long takes are real; the
/// hours over all days are exactly the planned ones. The seed fixes the expansion.
/// </summary>
public static class TakeExpansion
{
    // Spread of take lengths: the logarithm's standard deviation. Invented; a usual take is the mean.
    private const double TakeSpread = 0.55;

    /// <summary>Expands the shoot.</summary>
    /// <param name="brief">The brief.</param>
    /// <param name="burstFrames">The most frames of a take of camera and recording; long.MaxValue where a take is not a burst.</param>
    /// <param name="cancellation">Ends the expansion.</param>
    public static IReadOnlyList<PlannedTake> Expand(Brief brief, Func<int, int, long> burstFrames, CancellationToken cancellation)
    {
        List<PlannedTake> takes = [];
        for (int camera = 0; camera < brief.Shoot.Cameras.Count; camera++)
        {
            ShootUnit unit = brief.Shoot.Units.First(u => u.Name == brief.Shoot.Cameras[camera].Unit);
            double[] days = DaysSoFar(brief, unit);
            for (int day = 0; day < unit.Days; day++)
            {
                cancellation.ThrowIfCancellationRequested();
                AddDay(takes, brief, unit, camera, unit.FirstDay - 1 + day, days[day], days[day + 1], burstFrames);
            }
        }

        return takes;
    }

    // Usual days' worth of material before each day, and at the end: whole frames are cut from the running total, so that the
    // days add up to the plan exactly.
    private static double[] DaysSoFar(Brief brief, ShootUnit unit)
    {
        double[] factors = new double[unit.Days];
        double deviation = Math.Sqrt(Math.Log(1 + (brief.Shoot.DaySpread * brief.Shoot.DaySpread)));
        uint entity = Inputs.DrawSet.NameHash(unit.Name);
        for (int day = 0; day < factors.Length; day++)
        {
            RandomStream stream = new(brief.Seed, RandomPurpose.Takes, day, entity);
            factors[day] = Math.Exp(deviation * stream.NextNormal());
        }

        double mean = factors.Average();
        double[] soFar = new double[factors.Length + 1];
        for (int day = 0; day < factors.Length; day++)
        {
            soFar[day + 1] = soFar[day] + (factors[day] / mean);
        }

        soFar[^1] = factors.Length;
        return soFar;
    }

    private static void AddDay(
        List<PlannedTake> takes, Brief brief, ShootUnit unit, int camera, int day, double before, double after, Func<int, int, long> burstFrames)
    {
        RandomStream stream = new(brief.Seed, RandomPurpose.Takes, day, 1_000_000 + camera);
        IReadOnlyList<Recording> recordings = brief.Shoot.Cameras[camera].Recordings;
        List<(int Recording, long Frames, double Seconds)> lengths = [];
        for (int r = 0; r < recordings.Count; r++)
        {
            AddLengths(lengths, recordings[r], r, before, after, burstFrames(camera, r), ref stream);
        }

        for (int i = lengths.Count - 1; i > 0; i--)
        {
            int other = stream.NextBelow(i + 1);
            (lengths[i], lengths[other]) = (lengths[other], lengths[i]);
        }

        // The time between takes is shared out at random over the day from call to wrap.
        double start = unit.Call.TickOfDay / 1e7;
        double free = Math.Max(0, (unit.Wrap.TickOfDay / 1e7) - start - lengths.Sum(l => l.Seconds));
        double[] gaps = new double[lengths.Count + 1];
        for (int i = 0; i < gaps.Length; i++)
        {
            gaps[i] = stream.NextExponential(1);
        }

        double scale = free / gaps.Sum();
        for (int i = 0; i < lengths.Count; i++)
        {
            start += gaps[i] * scale;
            takes.Add(new(camera, lengths[i].Recording, day, i + 1, start, lengths[i].Frames, lengths[i].Seconds));
            start += lengths[i].Seconds;
        }
    }

    private static void AddLengths(
        List<(int Recording, long Frames, double Seconds)> lengths, Recording recording, int place, double before, double after, long most, ref RandomStream stream)
    {
        double fps = recording.Mode.SensorRate.FramesPerSecond.ToDouble();
        double perDay = recording.HoursPerDay.Likely * 3600 * fps;
        long left = (long)(Math.Round(after * perDay) - Math.Round(before * perDay));
        while (left > 0)
        {
            double usual = recording.TakeSeconds * Math.Exp((TakeSpread * stream.NextNormal()) - (TakeSpread * TakeSpread / 2));
            long frames = Math.Clamp((long)Math.Round(Math.Min(usual, recording.TakeSeconds * 4) * fps), 1, Math.Min(left, most));
            lengths.Add((place, frames, frames / fps));
            left -= frames;
        }
    }
}
