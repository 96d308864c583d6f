using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>
/// One read and N parallel writes: rate = min(reader, hash rate × threads, each destination, bus ÷ (1 + N)).
/// Checking is N reads: rate = min(each destination's read rate, hash rate × threads ÷ N, bus ÷ N), and with the
/// source, one more pass of the reader. Time = S ÷ copy rate + S ÷ verify rate + files × cost of a file.
/// </summary>
public sealed class CopyChain
{
    private readonly OffloadMeans means;
    private readonly Destination[] direct;
    private readonly Destination[] cascaded;
    private readonly double[] fastBytes;

    // What does not change from card to card.
    private readonly double directRate;
    private readonly double cascadeRate;
    private readonly double directVerifyRate;
    private readonly double cascadeVerifyRate;
    private readonly double sourceVerifyRate;

    /// <summary>Creates the chain of one station.</summary>
    /// <param name="means">What hangs on it.</param>
    public CopyChain(OffloadMeans means)
    {
        this.means = means;
        direct = [.. means.Destinations.Where(d => !d.Cascaded)];
        cascaded = [.. means.Destinations.Where(d => d.Cascaded)];
        fastBytes = [.. direct.Concat(cascaded).Select(d => (double)d.FastBytes)];
        directRate = SharedRate(means.ReaderBytesPerSecond, direct.Length);
        cascadeRate = SharedRate(direct[0].ReadRate, Math.Max(1, cascaded.Length));
        directVerifyRate = ReadLinks(direct).Min(l => l.BytesPerSecond);
        cascadeVerifyRate = cascaded.Length == 0 ? 1 : ReadLinks(cascaded).Min(l => l.BytesPerSecond);
        sourceVerifyRate = Math.Min(means.ReaderBytesPerSecond, Hash ?? double.MaxValue);
    }

    /// <summary>The links while copying from the card, slowest first, each destination at its sustained rate.</summary>
    public IReadOnlyList<ChainLink> CopyLinks => Sorted([.. SharedLinks(means.ReaderBytesPerSecond, "reader", direct.Length), .. direct.Select(d => new ChainLink(d.Name, d.SustainedBytesPerSecond))]);

    /// <summary>The links while checking, slowest first; empty where nothing is read again.</summary>
    public IReadOnlyList<ChainLink> VerifyLinks => means.Verify >= VerifyLevel.Destinations ? Sorted(ReadLinks(direct)) : [];

    /// <summary>What sets the copy rate now.</summary>
    public ChainLink BindingLink => CopyLinks[0];

    /// <summary>What would set it after that, or null where there is only one link.</summary>
    public ChainLink? NextLink => CopyLinks.Count > 1 ? CopyLinks[1] : null;

    /// <summary>How many destinations have state.</summary>
    internal int DestinationCount => direct.Length + cascaded.Length;

    /// <summary>Times of a card on a rested station: every fast part empty.</summary>
    /// <param name="bytes">Bytes on the card.</param>
    /// <param name="files">Files on it.</param>
    public CardTimes Times(long bytes, long files = 0) => Times(bytes, files, Rested());

    /// <summary>Room in the fast part of each destination of a rested station.</summary>
    internal double[] Rested() => [.. fastBytes];

    /// <summary>Lets fast parts empty into the slow ones.</summary>
    internal void Rest(double[] room, double seconds)
    {
        for (int i = 0; i < room.Length; i++)
        {
            Destination d = i < direct.Length ? direct[i] : cascaded[i - direct.Length];
            room[i] = Math.Min(d.FastBytes, room[i] + (seconds * d.SustainedBytesPerSecond));
        }
    }

    /// <summary>Times of a card, using up room in the fast parts.</summary>
    internal CardTimes Times(long bytes, long files, double[] room)
    {
        Guard.InRange(bytes, 0, long.MaxValue);
        Guard.InRange(files, 0, 1_000_000_000);
        double copy = Write(bytes, directRate, direct, room.AsSpan(0, direct.Length)) + (files * means.SecondsPerFile);
        double verify = means.Verify < VerifyLevel.Destinations ? 0
            : (bytes / directVerifyRate) + (means.Verify == VerifyLevel.SourceAndDestinations ? bytes / sourceVerifyRate : 0);
        if (cascaded.Length == 0)
        {
            return new(copy, verify, 0, 0);
        }

        double cascade = Write(bytes, cascadeRate, cascaded, room.AsSpan(direct.Length)) + (files * means.SecondsPerFile);
        return new(copy, verify, cascade, means.Verify < VerifyLevel.Destinations ? 0 : bytes / cascadeVerifyRate);
    }

    private static IReadOnlyList<ChainLink> Sorted(IEnumerable<ChainLink> links) => [.. links.OrderBy(l => l.BytesPerSecond).ThenBy(l => l.Name, StringComparer.Ordinal)];

    private static double Write(long bytes, double sharedRate, Destination[] destinations, Span<double> room)
    {
        double left = bytes;
        double seconds = 0;
        while (left > 0)
        {
            // Until the next fast part is full the rate does not change.
            double rate = sharedRate;
            double phase = left;
            for (int i = 0; i < destinations.Length; i++)
            {
                Destination d = destinations[i];
                bool fast = room[i] > 0 && d.FastBytesPerSecond > d.SustainedBytesPerSecond;
                rate = Math.Min(rate, fast ? d.FastBytesPerSecond : d.SustainedBytesPerSecond);
                phase = fast ? Math.Min(phase, room[i]) : phase;
            }

            seconds += phase / rate;
            left -= phase;
            for (int i = 0; i < room.Length; i++)
            {
                room[i] = Math.Max(0, room[i] - phase);
            }
        }

        return seconds;
    }

    private double? Hash => means.HashBytesPerSecond * means.HashThreads;

    private IEnumerable<ChainLink> ReadLinks(Destination[] destinations)
    {
        foreach (Destination d in destinations)
        {
            yield return new(d.Name, d.ReadRate);
        }

        if (Hash is { } hash)
        {
            yield return new("hash", hash / destinations.Length);
        }

        if (means.BusBytesPerSecond is { } bus)
        {
            yield return new("bus", bus / destinations.Length);
        }
    }

    private IEnumerable<ChainLink> SharedLinks(double source, string name, int writes)
    {
        yield return new(name, source);
        if (Hash is { } hash)
        {
            yield return new("hash", hash);
        }

        if (means.BusBytesPerSecond is { } bus)
        {
            yield return new("bus", bus / (1 + writes));
        }
    }

    private double SharedRate(double source, int writes) => SharedLinks(source, "source", writes).Min(l => l.BytesPerSecond);
}
