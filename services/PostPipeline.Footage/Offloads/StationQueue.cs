using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>
/// Stations side by side with one queue, first come first served; ties go to the lowest station. The clock is
/// whole microseconds, so equal cards on equal stations end at equal times.
/// </summary>
public sealed class StationQueue
{
    private readonly PriorityQueue<int, (long Free, int Station)> byFree = new();

    /// <summary>Creates rested stations.</summary>
    /// <param name="stations">1 or more.</param>
    public StationQueue(int stations)
    {
        Guard.InRange(stations, 1, OffloadMeans.MaximumStations);
        for (int s = 0; s < stations; s++)
        {
            byFree.Enqueue(s, (long.MinValue, s));
        }
    }

    /// <summary>Takes the next card in order of arrival.</summary>
    /// <param name="arrival">When it arrives; not before the card taken before it.</param>
    /// <param name="station">The station that takes it.</param>
    /// <returns>When that station starts on it.</returns>
    public long Start(long arrival, out int station)
    {
        byFree.TryDequeue(out station, out (long Free, int Station) key);
        return Math.Max(arrival, key.Free);
    }

    /// <summary>Says when the station that took the last card is free again.</summary>
    /// <param name="station">The station.</param>
    /// <param name="until">When it is free.</param>
    public void Occupy(int station, long until) => byFree.Enqueue(station, (until, station));
}
