using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>
/// Turns takes into cards: a card leaves the camera at the very moment it is full, at a pull time once the take
/// that runs then has ended, or at wrap. A take that does not fit goes on to the next card at a whole byte.
/// </summary>
public static class CardFilling
{
    /// <summary>Microseconds of a day.</summary>
    public const long Day = 86_400_000_000;

    /// <summary>The cards of a camera's day, in order of time.</summary>
    /// <param name="camera">Which camera, from 0.</param>
    /// <param name="day">What it records.</param>
    /// <param name="wrap">When recording ends.</param>
    /// <exception cref="ArgumentException">A take ends before it starts, or overlaps the one before.</exception>
    public static List<CardArrival> Fill(int camera, CameraDay day, long wrap)
    {
        Guard.InRange(day.CardBytes, 1, long.MaxValue);
        List<CardArrival> cards = [];
        Queue<long> pulls = new(day.PullMicroseconds.Order());
        long onCard = 0;
        long files = 0;
        long last = 0;
        foreach (RecordedTake take in day.Takes)
        {
            Check(day, take, last);
            PullBefore(take.StartMicroseconds);
            long left = take.Bytes;
            files += take.Files;
            while (left > day.CardBytes - onCard)
            {
                left -= day.CardBytes - onCard;
                cards.Add(new(camera, Instant(take, take.Bytes - left), day.CardBytes, files));

                // The file that runs on is a file of the next card too.
                (onCard, files) = (0, 1);
            }

            onCard += left;
            last = take.EndMicroseconds;
            if (onCard == day.CardBytes)
            {
                Pull(last);
            }
        }

        PullBefore(long.MaxValue);
        Pull(Math.Max(wrap, last));
        return cards;

        void PullBefore(long start)
        {
            while (pulls.Count > 0 && pulls.Peek() <= start)
            {
                long at = pulls.Dequeue();
                if (start != long.MaxValue || at < wrap)
                {
                    Pull(Math.Max(at, last));
                }
            }
        }

        void Pull(long at)
        {
            if (onCard > 0)
            {
                cards.Add(new(camera, at, onCard, files));
            }

            (onCard, files) = (0, 0);
        }
    }

    private static long Instant(RecordedTake take, long bytes) =>
        take.StartMicroseconds + (long)(((Int128)(take.EndMicroseconds - take.StartMicroseconds) * bytes) / take.Bytes);

    private static void Check(CameraDay day, RecordedTake take, long last)
    {
        if (take.EndMicroseconds < take.StartMicroseconds || take.StartMicroseconds < last)
        {
            throw new ArgumentException(
                $"Camera {day.Camera}: a take runs from {take.StartMicroseconds / 1e6:0.###} s to {take.EndMicroseconds / 1e6:0.###} s; allowed is an end not before its start and a start not before {last / 1e6:0.###} s, where the take before ends.", nameof(day));
        }

        Guard.InRange(take.Bytes, 0, long.MaxValue);
        Guard.InRange(take.Files, 1, 1_000_000_000);
    }
}
