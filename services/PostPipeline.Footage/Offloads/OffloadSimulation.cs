namespace PostPipeline.Footage.Offloads;

/// <summary>
/// The offload card by card. A station holds a card while it is copied and checked; cascaded copies are made from
/// the first destination, one card after another, while the reader serves the next; looking and carrying hold no
/// station.
/// </summary>
public static class OffloadSimulation
{
    private const double Microseconds = 1e6;

    /// <summary>Runs cards through the stations.</summary>
    /// <param name="means">The stations.</param>
    /// <param name="cards">Cards in any order; those pulled at one instant are served in the order given.</param>
    /// <param name="cancellationToken">Stops between cards.</param>
    /// <returns>Each card's way, in order of arrival.</returns>
    public static IReadOnlyList<CardRun> Run(OffloadMeans means, IEnumerable<CardArrival> cards, CancellationToken cancellationToken = default)
    {
        CopyChain chain = new(means);
        StationQueue queue = new(means.Stations);
        StationState[] stations = [.. Enumerable.Range(0, means.Stations).Select(_ => new StationState(chain.Rested()))];
        long transit = Clock(means.TransitSeconds);
        long look = Clock(means.LookSeconds);
        long back = Clock(means.ReturnSeconds);
        List<CardRun> runs = [];
        foreach (CardArrival card in cards.OrderBy(c => c.PulledMicroseconds))
        {
            cancellationToken.ThrowIfCancellationRequested();
            long arrived = checked(card.PulledMicroseconds + transit);
            long started = queue.Start(arrived, out int number);
            StationState station = stations[number];
            chain.Rest(station.Room, station.Written == long.MinValue ? 0 : (started - station.Written) / Microseconds);
            CardTimes times = chain.Times(card.Bytes, card.Files, station.Room);
            long copied = checked(started + Clock(times.CopySeconds));
            long verified = checked(copied + Clock(times.VerifySeconds));
            queue.Occupy(number, verified);
            station.Written = copied;
            if (times.CascadeCopySeconds > 0)
            {
                copied = checked(Math.Max(verified, station.CascadeFree) + Clock(times.CascadeCopySeconds));
                verified = checked(copied + Clock(times.CascadeVerifySeconds));
                station.CascadeFree = verified;
            }

            long done = checked(verified + look);
            runs.Add(new(card, number, arrived, started, copied, verified, done, Ready(card, checked(done + back), means.HoldNights)));
        }

        return runs;
    }

    /// <summary>Seconds as whole microseconds, up.</summary>
    internal static long Clock(double seconds) => checked((long)Math.Ceiling(Math.Round(seconds * Microseconds, 3)));

    private static long Ready(CardArrival card, long back, int nights)
    {
        if (nights == 0)
        {
            return back;
        }

        long day = card.PulledMicroseconds / CardFilling.Day;
        return Math.Max(back, checked((day + nights + 1) * CardFilling.Day));
    }

    private sealed class StationState(double[] room)
    {
        public double[] Room { get; } = room;

        public long Written { get; set; } = long.MinValue;

        public long CascadeFree { get; set; } = long.MinValue;
    }
}
