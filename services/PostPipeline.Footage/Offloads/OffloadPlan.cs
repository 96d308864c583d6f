using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>Simulates a unit's days, each on its own or one after another with what is left over.</summary>
public static class OffloadPlan
{
    /// <summary>The most days.</summary>
    public const int MaximumDays = 366;

    /// <summary>One day by itself: stations rested, held cards of equal days before it counted.</summary>
    /// <param name="means">The stations.</param>
    /// <param name="day">The day.</param>
    /// <param name="cancellationToken">Stops between cards.</param>
    public static DayOffload Simulate(OffloadMeans means, ShootDay day, CancellationToken cancellationToken = default)
    {
        DayOffload alone = Simulate(means, [day with { DayNumber = 0 }], cancellationToken)[0];
        return means.HoldNights == 0 ? alone : alone with { Rotation = [.. alone.Rotation.Select(r => Held(r, alone, day, means))] };
    }

    /// <summary>Days of one unit one after another: a backlog carries over, and held cards are out.</summary>
    /// <param name="means">The stations.</param>
    /// <param name="days">1 to 366 days with rising day numbers.</param>
    /// <param name="cancellationToken">Stops between cards.</param>
    /// <returns>One answer a day, on that day's clock; a card's way stands with the day it was pulled on.</returns>
    public static IReadOnlyList<DayOffload> Simulate(OffloadMeans means, IReadOnlyList<ShootDay> days, CancellationToken cancellationToken = default)
    {
        Guard.InRange(days.Count, 1, MaximumDays, "count of days");
        string[] cameras = [.. days.SelectMany(d => d.Cameras).Select(c => c.Camera).Distinct()];
        List<(CardArrival Card, int Day, long Inserted)> cards = [];
        for (int d = 0; d < days.Count; d++)
        {
            if (d > 0 && days[d].DayNumber <= days[d - 1].DayNumber)
            {
                throw new ArgumentException($"Day {days[d].DayNumber} follows day {days[d - 1].DayNumber}; day numbers must rise.", nameof(days));
            }

            long midnight = checked(days[d].DayNumber * CardFilling.Day);
            foreach (CameraDay camera in days[d].Cameras)
            {
                // A card goes into the camera when the one before leaves it, the first with the first take.
                long inserted = camera.Takes.Count > 0 ? camera.Takes[0].StartMicroseconds : 0;
                foreach (CardArrival card in CardFilling.Fill(Array.IndexOf(cameras, camera.Camera), camera, days[d].WrapMicroseconds))
                {
                    cards.Add((card with { PulledMicroseconds = checked(midnight + card.PulledMicroseconds) }, d, checked(midnight + inserted)));
                    inserted = card.PulledMicroseconds;
                }
            }
        }

        cards = [.. cards.OrderBy(c => c.Card.PulledMicroseconds)];
        IReadOnlyList<CardRun> runs = OffloadSimulation.Run(means, cards.Select(c => c.Card), cancellationToken);
        CopyChain chain = new(means);
        DayOffload[] results = new DayOffload[days.Count];
        for (int d = 0; d < days.Count; d++)
        {
            results[d] = Day(d);
        }

        return results;

        DayOffload Day(int d)
        {
            long midnight = days[d].DayNumber * CardFilling.Day;
            int[] own = [.. Enumerable.Range(0, runs.Count).Where(i => cards[i].Day == d)];
            CardRun[] dayRuns = [.. own.Select(i => Shift(runs[i], midnight))];
            long first = days[d].Cameras.Where(c => c.Takes.Count > 0).Select(c => c.Takes[0].StartMicroseconds).DefaultIfEmpty(0).Min();
            double span = (days[d].WrapMicroseconds - first) / 1e6 * means.Stations;
            double work = dayRuns.Sum(r => chain.Times(r.Card.Bytes, r.Card.Files).StationSeconds);
            return new()
            {
                Runs = dayRuns,
                Cameras = cameras,
                Rotation = [.. days[d].Cameras.Select(c => Rotation(c.Camera, d))],
                Bytes = dayRuns.Aggregate(0L, (sum, r) => checked(sum + r.Card.Bytes)),
                EndMicroseconds = dayRuns.Length == 0 ? 0 : dayRuns.Max(r => r.DoneMicroseconds),
                WrapMicroseconds = days[d].WrapMicroseconds,
                StationLoad = work == 0 ? 0 : span > 0 ? work / span : double.PositiveInfinity,
            };
        }

        // Cards of earlier days that are still out count where they are out; so the count runs up to the end of the day.
        CardsInRotation Rotation(string camera, int day)
        {
            int index = Array.IndexOf(cameras, camera);
            int[] upToNow = [.. Enumerable.Range(0, runs.Count).Where(i => cards[i].Day <= day && runs[i].Card.Camera == index)];
            long midnight = days[day].DayNumber * CardFilling.Day;
            int[] relevant = [.. upToNow.Where(i => runs[i].ReadyMicroseconds > midnight)];
            return CardsInRotation.Count(camera, [.. relevant.Select(i => runs[i])], [.. relevant.Select(i => cards[i].Inserted)], means.SpareCards);
        }
    }

    private static CardsInRotation Held(CardsInRotation rotation, DayOffload day, ShootDay shoot, OffloadMeans means)
    {
        int index = shoot.Cameras.Select(c => c.Camera).Distinct().ToList().IndexOf(rotation.Camera);
        int pulled = day.Runs.Count(r => r.Card.Camera == index);
        int most = checked(pulled * (1 + means.HoldNights));
        return new(rotation.Camera, most, most + means.SpareCards);
    }

    private static CardRun Shift(CardRun run, long midnight) => new(
        run.Card with { PulledMicroseconds = run.Card.PulledMicroseconds - midnight },
        run.Station,
        run.ArrivedMicroseconds - midnight,
        run.StartedMicroseconds - midnight,
        run.CopiedMicroseconds - midnight,
        run.VerifiedMicroseconds - midnight,
        run.DoneMicroseconds - midnight,
        run.ReadyMicroseconds - midnight);
}
