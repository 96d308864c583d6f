using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>The stations that copy cards, what hangs on each, how copies are checked, and how cards travel.</summary>
public sealed record OffloadMeans
{
    /// <summary>The most stations.</summary>
    public const int MaximumStations = 1000;

    /// <summary>The most destinations a station.</summary>
    public const int MaximumDestinations = 32;

    /// <summary>Creates means.</summary>
    /// <param name="stations">1 to 1,000 stations that work side by side.</param>
    /// <param name="readerBytesPerSecond">What a card is read at: the slower of card and reader.</param>
    /// <param name="destinations">Destinations of each station; at least one is written from the card.</param>
    /// <exception cref="ArgumentOutOfRangeException">A count or rate lies outside its range.</exception>
    public OffloadMeans(int stations, double readerBytesPerSecond, IReadOnlyList<Destination> destinations)
    {
        Stations = Guard.InRange(stations, 1, MaximumStations);
        ReaderBytesPerSecond = Guard.Finite(readerBytesPerSecond, 1, 1e15);
        Guard.InRange(destinations.Count, 1, MaximumDestinations, "count of destinations");
        Destinations = destinations;
        if (destinations.All(d => d.Cascaded))
        {
            throw new ArgumentOutOfRangeException(nameof(destinations), destinations.Count, "All destinations are cascaded; at least one must be written from the card.");
        }
    }

    /// <summary>Stations that work side by side.</summary>
    public int Stations { get; }

    /// <summary>Bytes a second from a card.</summary>
    public double ReaderBytesPerSecond { get; }

    /// <summary>Destinations of each station.</summary>
    public IReadOnlyList<Destination> Destinations { get; }

    /// <summary>How copies are checked.</summary>
    public VerifyLevel Verify { get; init; } = VerifyLevel.Destinations;

    /// <summary>Bytes a second that one thread hashes; null where it does not limit.</summary>
    public double? HashBytesPerSecond { get; init; }

    /// <summary>Files that are hashed at once.</summary>
    public int HashThreads { get; init; } = 1;

    /// <summary>Bytes a second of a bus that all reads and writes of a station share; null where there is none.</summary>
    public double? BusBytesPerSecond { get; init; }

    /// <summary>Seconds for each file on top of its bytes.</summary>
    public double SecondsPerFile { get; init; }

    /// <summary>Seconds that a person looks at each card's pictures; no station is held meanwhile.</summary>
    public double LookSeconds { get; init; }

    /// <summary>Seconds from camera to station.</summary>
    public double TransitSeconds { get; init; }

    /// <summary>Seconds from release to lying ready at the camera.</summary>
    public double ReturnSeconds { get; init; }

    /// <summary>Nights that cards are held. Cards held n nights serve again on the day after the n-th, so n + 1 days' cards are out at once.</summary>
    public int HoldNights { get; init; }

    /// <summary>Spare cards a camera.</summary>
    public int SpareCards { get; init; } = 1;
}
