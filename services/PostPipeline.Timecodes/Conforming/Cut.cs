using System.Collections.Immutable;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>A cut: events in order, at one record rate.</summary>
/// <param name="Title">The title; empty where there is none.</param>
/// <param name="RecordFormat">Rate and numbering of the record side.</param>
/// <param name="Events">The events in list order.</param>
public sealed record Cut(string Title, TimecodeFormat RecordFormat, ImmutableArray<CutEvent> Events)
{
    /// <summary>Record frames of all events that carry pictures, black included.</summary>
    public long TotalRecordFrames
    {
        get
        {
            long sum = 0;
            foreach (CutEvent item in Events)
            {
                sum += item.RecordFrames;
            }

            return sum;
        }
    }

    /// <summary>Where the record side of a track is not contiguous.</summary>
    /// <remarks>Events are taken in list order, each kind of track by itself.</remarks>
    public ImmutableArray<RecordGap> RecordGaps()
    {
        Dictionary<string, int> lastOnTrack = new(StringComparer.OrdinalIgnoreCase);
        ImmutableArray<RecordGap>.Builder gaps = ImmutableArray.CreateBuilder<RecordGap>();
        for (int i = 0; i < Events.Length; i++)
        {
            CutEvent item = Events[i];
            if (lastOnTrack.TryGetValue(item.Tracks, out int before))
            {
                long distance = item.RecordIn - Events[before].RecordOut;
                if (distance <= -RecordFormat.FramesPerDay / 2)
                {
                    distance += RecordFormat.FramesPerDay;
                }

                if (distance != 0)
                {
                    gaps.Add(new(before, i, distance));
                }
            }

            lastOnTrack[item.Tracks] = i;
        }

        return gaps.DrainToImmutable();
    }
}
