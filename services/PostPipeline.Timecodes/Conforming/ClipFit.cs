using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>What it means for an event that one clip is the one it wants: the class, the frames it needs, handles, findings.</summary>
internal sealed class ClipFit(Inventory inventory, ConformOptions options)
{
    /// <summary>The match with a clip.</summary>
    /// <param name="query">The event.</param>
    /// <param name="row">The clip.</param>
    /// <param name="rung">The rung on which it was found.</param>
    /// <param name="place">The event's place in the cut.</param>
    /// <param name="offset">Where the event's identity begins in the clip, in frames; null to work it out from the labels.</param>
    public EventMatch Of(in Query query, int row, MatchRung rung, int place, long? offset = null)
    {
        CutEvent item = query.Item;
        long identityOffset = offset ?? query.OffsetIn(row);
        SourceSpan need = item.Need();

        // Need and identity are counted from the same label, so their distance carries over.
        need = new(identityOffset + (need.First - query.Identity.First), need.Frames);
        long clipFrames = inventory.Columns.Rows[row].Frames;
        ConformFindings findings = FindingsOf(item, row, rung);
        if (need.First < 0 || need.End > clipFrames)
        {
            return new(place, ConformClass.OutsideFile, rung, row, 1, findings | ConformFindings.NeedsMoreThanListed, need, 0, 0);
        }

        ChunkedTake? take = inventory.TakeOf(row);
        if (take is not null && !take.Holds(need.First, need.End))
        {
            return new(place, ConformClass.ChunkMissing, rung, row, 1, findings, need, 0, 0);
        }

        long wanted = (item.Need(options.HandleFrames).Frames - need.Frames) / 2;
        long before = Math.Min(wanted, need.First);
        long behind = Math.Min(wanted, clipFrames - need.End);
        if (take is not null)
        {
            // A gap in the take ends the handle there.
            SourceSpan run = take.RunAround(need.First);
            before = Math.Min(before, need.First - run.First);
            behind = Math.Min(behind, run.End - need.End);
        }

        if (need.First + query.StartOf(row) < item.SourceFormat.FramesPerDay && need.End + query.StartOf(row) > item.SourceFormat.FramesPerDay)
        {
            findings |= ConformFindings.OverMidnight;
        }

        ConformClass verdict = ConformClass.Matched;
        if (before < wanted || behind < wanted)
        {
            findings |= ConformFindings.HandlesShort;
            verdict = ConformClass.ShortHandles;
        }

        if (item.SpeedOrigin != SpeedOrigin.NormalSpeed)
        {
            verdict = ConformClass.SpeedToCheck;
        }

        return new(place, verdict, rung, row, 1, findings, need, before, behind);
    }

    private ConformFindings FindingsOf(CutEvent item, int row, MatchRung rung)
    {
        ConformFindings findings = ConformFindings.None;
        findings |= rung is MatchRung.TruncatedReel or MatchRung.CameraOrDate ? ConformFindings.ToConfirm : 0;
        findings |= item.SpeedOrigin == SpeedOrigin.Stated ? ConformFindings.SpeedStated : 0;
        findings |= item.SpeedOrigin == SpeedOrigin.InferredFromLengths ? ConformFindings.SpeedInferred : 0;
        findings |= item.Speed.Sign < 0 ? ConformFindings.Reverse : 0;
        findings |= item.Speed.Sign == 0 ? ConformFindings.Freeze : 0;
        findings |= item.EntryFrame is { } entry && entry != item.SourceIn ? ConformFindings.EntryDiffers : 0;
        ClipRows columns = inventory.Columns;
        findings |= columns.Rows[row].SensorRate > 0 && inventory.SensorRateOf(row) != inventory.Formats[columns.Rows[row].Format].Rate ? ConformFindings.OffSpeedClip : 0;
        findings |= columns.Trimmable(row) switch
        {
            Trimmability.No => ConformFindings.NotTrimmable,
            Trimmability.Unknown => ConformFindings.TrimmableUnknown,
            _ => ConformFindings.None,
        };
        return findings | (inventory.TakeOf(row) is not null ? ConformFindings.TakeOfSeveralFiles : 0);
    }
}
