using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>One event as the ladder asks for it.</summary>
internal readonly ref struct Query
{
    private readonly Inventory inventory;

    public Query(CutEvent item, Inventory inventory, ReadOnlySpan<byte> name, ReadOnlySpan<byte> reel)
    {
        this.inventory = inventory;
        Item = item;
        Stem = FoldedText.Stem(name);
        Reel = reel;
        FormatId = inventory.Formats.Find(item.SourceFormat);
        Identity = item.Speed.Sign == 0 || item.SourceFrames == 0 ? item.Need() : new(item.SourceIn, item.SourceFrames);
    }

    public CutEvent Item { get; }

    /// <summary>The clip name without extension; empty where the event has none.</summary>
    public ReadOnlySpan<byte> Stem { get; }

    public ReadOnlySpan<byte> Reel { get; }

    public bool HasReel => Reel.Length > 0;

    /// <summary>The number of the event's format in the inventory; 0 where no clip has it.</summary>
    public int FormatId { get; }

    /// <summary>The frames that say which clip is meant: those that the list names.</summary>
    public SourceSpan Identity { get; }

    public long StartOf(int row) => inventory.Columns.Rows[row].Start;

    /// <summary>Where the identity begins, counted from the clip's first frame; a clip may run over midnight.</summary>
    public long OffsetIn(int row) => Item.SourceFormat.Wrap(Identity.First - inventory.Columns.Rows[row].Start);

    /// <summary>Whether the clip has the event's format and every frame of its identity.</summary>
    public bool HeldBy(int row)
    {
        ClipRows columns = inventory.Columns;
        if (columns.Rows[row].Format != FormatId || columns.Rows[row].Start < 0)
        {
            return false;
        }

        long offset = OffsetIn(row);
        return offset + Identity.Frames <= columns.Rows[row].Frames
            && (inventory.TakeOf(row) is not { } take || take.Holds(offset, offset + Identity.Frames));
    }

    /// <summary>Whether a clip of the event's format shares a frame with its identity.</summary>
    public bool Meets(int row)
    {
        ClipRows columns = inventory.Columns;
        return columns.Rows[row].Format == FormatId && columns.Rows[row].Start >= 0
            && (OffsetIn(row) < columns.Rows[row].Frames || Item.SourceFormat.Wrap(columns.Rows[row].Start - Identity.First) < Identity.Frames);
    }

    /// <summary>The identity's labels counted in another format, as if the list had been exported wrongly.</summary>
    public bool TryIdentityAt(TimecodeFormat other, out SourceSpan span)
    {
        TimecodeFormat format = Item.SourceFormat;
        span = default;
        if (other.TryGetFrameIndex(format.FieldsOf(Identity.First), DroppedLabels.SnapForward, out long first) != LabelFault.None
            || other.TryGetFrameIndex(format.FieldsOf(Identity.End - 1), DroppedLabels.SnapForward, out long last) != LabelFault.None)
        {
            return false;
        }

        span = new(first, other.Wrap(last - first) + 1);
        return true;
    }

    /// <summary>Why a clip that is meant by name or reel does not fit.</summary>
    public NearMiss MissAt(int row, MatchRung rung)
    {
        ClipRows columns = inventory.Columns;
        if (columns.Rows[row].Start < 0)
        {
            return new(row, ConformClass.None, MatchRung.Person, NearMiss.NoLabelsScore, ConformFindings.NoLabels);
        }

        if (columns.Rows[row].Format == FormatId)
        {
            return inventory.TakeOf(row) is { } take && InMissingChunk(take, row)
                ? new(row, ConformClass.ChunkMissing, rung, NearMiss.ChunkScore, ConformFindings.TakeOfSeveralFiles)
                : new(row, ConformClass.OutsideFile, rung, NearMiss.OutsideScore, ConformFindings.None);
        }

        TimecodeFormat format = inventory.Formats[columns.Rows[row].Format];
        bool inside = TryIdentityAt(format, out SourceSpan span)
            && format.Wrap(span.First - columns.Rows[row].Start) + span.Frames <= columns.Rows[row].Frames;
        return format.Rate == Item.SourceFormat.Rate
            ? new(row, ConformClass.DropFlagConflict, rung, inside ? NearMiss.DropScore : NearMiss.DropElsewhereScore, ConformFindings.None)
            : new(row, ConformClass.RateConflict, rung, inside ? NearMiss.RateScore : NearMiss.RateElsewhereScore, ConformFindings.None);
    }

    private bool InMissingChunk(ChunkedTake take, int row)
    {
        long offset = OffsetIn(row);
        if (offset + Identity.Frames <= inventory.Columns.Rows[row].Frames)
        {
            return true;
        }

        return offset < Item.SourceFormat.FramesPerDay / 2 ? take.EndIsMissing : take.StartIsMissing;
    }
}
