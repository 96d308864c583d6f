namespace PostPipeline.Footage.Offloads;

/// <summary>Cards that one camera needs: the most at once in it, waiting, in transit, copying, being checked or held, and spares.</summary>
/// <param name="Camera">The camera's name.</param>
/// <param name="MostAtOnce">The most at once.</param>
/// <param name="WithSpares">The same with spares.</param>
public readonly record struct CardsInRotation(string Camera, int MostAtOnce, int WithSpares)
{
    /// <summary>Counts over a camera's runs. A card is in use from the moment the one before is pulled until it is ready again.</summary>
    /// <param name="camera">Its name.</param>
    /// <param name="runs">Its cards, in order of time.</param>
    /// <param name="firstStart">When its first card goes into the camera.</param>
    /// <param name="spares">Spare cards.</param>
    internal static CardsInRotation Count(string camera, IReadOnlyList<CardRun> runs, IReadOnlyList<long> firstStart, int spares)
    {
        List<(long At, int Change)> changes = [];
        for (int i = 0; i < runs.Count; i++)
        {
            changes.Add((firstStart[i], 1));
            changes.Add((runs[i].ReadyMicroseconds, -1));
        }

        int now = 0;
        int most = 0;

        // A card that comes back at the instant another goes in can be that one.
        foreach ((_, int change) in changes.OrderBy(c => c.At).ThenBy(c => c.Change))
        {
            now += change;
            most = Math.Max(most, now);
        }

        return new(camera, most, most + spares);
    }
}
