using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>Why an event has no match: the clip that comes nearest, by name or by reel, and what keeps it from fitting.</summary>
internal sealed class NearestMisses(Inventory inventory, ConformOptions options, ClipIndex index)
{
    private readonly List<int> found = [];

    /// <summary>The nearest miss of an event.</summary>
    /// <param name="query">The event.</param>
    /// <param name="place">The event's place in the cut.</param>
    public EventMatch Of(in Query query, int place)
    {
        NearMiss best = NearMiss.Nothing;
        int seen = 0;
        if (!query.Stem.IsEmpty)
        {
            for (int row = index.Names.First(query.Stem); row >= 0 && seen < Conformer.MostOfOneName; row = index.Names.Next(row, query.Stem))
            {
                seen++;
                int whole = inventory.TakeOf(row)?.Row ?? row;
                if (inventory.Columns.Kind(whole) == options.Target)
                {
                    best = best.Better(query.MissAt(whole, MatchRung.FullName));
                }
            }
        }

        if (best.Score <= NearMiss.NoLabelsScore && query.HasReel && inventory.Reels.Find(query.Reel) is var reel and >= 0)
        {
            best = best.Better(MissByReel(query, reel));
        }

        ConformFindings findings = best.Findings;
        if (seen > 0)
        {
            findings |= ConformFindings.NameElsewhere;
        }

        return best.Row < 0 || best.Class == ConformClass.None
            ? new(place, ConformClass.None, MatchRung.Person, best.Row, 0, findings, default, 0, 0)
            : new(place, best.Class, best.Rung, best.Row, 1, findings, default, 0, 0);
    }

    private NearMiss MissByReel(in Query query, int reel)
    {
        NearMiss best = NearMiss.Nothing;
        for (int format = 1; format <= Math.Min(inventory.Formats.Count, 64); format++)
        {
            long key = IntervalGroups.Key(reel, format);
            int inGroup = index.ByReel.CountIn(key);
            if (inGroup == 0)
            {
                continue;
            }

            TimecodeFormat other = inventory.Formats[format];
            found.Clear();
            if (format != query.FormatId)
            {
                if (query.TryIdentityAt(other, out SourceSpan asCounted))
                {
                    index.ByReel.Holding(key, asCounted.First, asCounted.End, 1, found);
                    index.ByReel.Holding(key, asCounted.First + other.FramesPerDay, asCounted.End + other.FramesPerDay, 1, found);
                }
            }
            else
            {
                // A clip or the event itself may run over midnight.
                for (long day = -other.FramesPerDay; day <= other.FramesPerDay; day += other.FramesPerDay)
                {
                    index.ByReel.Meeting(key, query.Identity.First + day, query.Identity.End + day, found.Count + 8, found);
                }

                (int before, int behind) = index.ByReel.Neighbours(key, query.Identity.First);
                foreach (int neighbour in (ReadOnlySpan<int>)[before, behind])
                {
                    if (neighbour >= 0 && (inGroup == 1 || inventory.TakeOf(neighbour) is not null))
                    {
                        found.Add(neighbour);
                    }
                }
            }

            foreach (int row in found)
            {
                NearMiss miss = query.MissAt(row, MatchRung.Reel);
                best = best.Better(miss.Class == ConformClass.OutsideFile && inGroup > 1 && !query.Meets(row) ? NearMiss.Nothing : miss);
            }
        }

        return best.Row >= 0 ? best : new(-1, ConformClass.None, MatchRung.Person, 0, ConformFindings.ReelWithoutLabels);
    }
}
