using System.Collections.Immutable;
using System.Text;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>Puts the files of each take together and adds one row to the inventory that stands for the take.</summary>
internal sealed class ChunkAssembly
{
    private readonly Dictionary<int, ChunkedTake> takeOfRow = [];

    private ChunkAssembly(ImmutableArray<ChunkedTake> takes)
    {
        Takes = takes;
        foreach (ChunkedTake take in takes)
        {
            takeOfRow[take.Row] = take;
            foreach (TakeChunk chunk in take.Chunks)
            {
                takeOfRow[chunk.Row] = take;
            }

            foreach (int copy in take.Copies)
            {
                takeOfRow[copy] = take;
            }
        }
    }

    public ImmutableArray<ChunkedTake> Takes { get; }

    public ChunkedTake? Find(int row) => takeOfRow.Count > 0 && takeOfRow.TryGetValue(row, out ChunkedTake? take) ? take : null;

    public static ChunkAssembly Of(InventoryBuilder builder)
    {
        ImmutableArray<ChunkedTake>.Builder takes = ImmutableArray.CreateBuilder<ChunkedTake>();
        IEnumerable<IGrouping<TakeKey, ChunkRow>> groups = builder.ChunkRows.GroupBy(chunk => Key(builder.Columns, chunk));
        foreach (IGrouping<TakeKey, ChunkRow> group in groups)
        {
            takes.Add(Assemble(builder, group.Key, [.. group.OrderBy(chunk => chunk.Number).ThenBy(chunk => chunk.Row)]));
        }

        return new(takes.DrainToImmutable());
    }

    private static TakeKey Key(ClipColumns columns, ChunkRow chunk)
    {
        string take = chunk.Take.Length > 0 ? chunk.Take : TakeName(Encoding.UTF8.GetString(FoldedText.Stem(columns.Name(chunk.Row))));
        return new(take.ToUpperInvariant(), columns.Kind(chunk.Row), columns.Format[chunk.Row], take);
    }

    private static string TakeName(string chunkName)
    {
        // A001_C002_003 is chunk 3 of A001_C002.
        int end = chunkName.Length;
        while (end > 0 && char.IsAsciiDigit(chunkName[end - 1]))
        {
            end--;
        }

        return end > 1 && end < chunkName.Length && chunkName[end - 1] is '_' or '-' or '.' ? chunkName[..(end - 1)] : chunkName;
    }

    private static ChunkedTake Assemble(InventoryBuilder builder, TakeKey key, ChunkRow[] rows)
    {
        ClipColumns columns = builder.Columns;
        TimecodeFormat format = builder.Formats[key.Format];
        ImmutableArray<TakeChunk>.Builder chunks = ImmutableArray.CreateBuilder<TakeChunk>(rows.Length);
        ImmutableArray<int>.Builder missing = ImmutableArray.CreateBuilder<int>();
        ImmutableArray<int>.Builder broken = ImmutableArray.CreateBuilder<int>();
        ImmutableArray<int>.Builder copies = ImmutableArray.CreateBuilder<int>();
        int expected = rows.Max(row => Math.Max(row.Expected, row.Number));
        int first = rows[0].Row;
        long offset = 0;
        long bytes = 0;
        int number = 0;
        foreach (ChunkRow row in rows)
        {
            if (row.Number == number)
            {
                // The same file twice (two copies in the inventory): the first one stands.
                copies.Add(row.Row);
                continue;
            }

            for (int gap = number + 1; gap < row.Number && missing.Count < MostMissingListed; gap++)
            {
                missing.Add(gap);
            }

            bool labelled = columns.Start[first] >= 0 && columns.Start[row.Row] >= 0;
            long byLabel = labelled ? format.Wrap((long)columns.Start[row.Row] - columns.Start[first]) : offset;
            if (chunks.Count > 0 && row.Number == number + 1 && byLabel != offset)
            {
                broken.Add(number);
            }

            // A take is shorter than a label day; labels that run backwards are a break, not a day of frames.
            offset = byLabel < format.FramesPerDay / 2 ? Math.Max(byLabel, offset) : offset;
            chunks.Add(new(row.Row, row.Number, offset, columns.Frames[row.Row]));
            offset += columns.Frames[row.Row];
            bytes = columns.Bytes[row.Row] < 0 || bytes < 0 ? -1 : checked(bytes + columns.Bytes[row.Row]);
            number = row.Number;
        }

        for (int gap = number + 1; gap <= expected && missing.Count < MostMissingListed; gap++)
        {
            missing.Add(gap);
        }

        int whole = columns.Append(Encoding.UTF8.GetBytes(key.Name));
        columns.Reel[whole] = columns.Reel[first];
        columns.Start[whole] = columns.Start[first];
        columns.Frames[whole] = (int)Math.Min(offset, Clip.MaximumFrames);
        columns.Bytes[whole] = bytes;
        columns.Medium[whole] = columns.Medium[first];
        columns.Day[whole] = columns.Day[first];
        columns.Format[whole] = columns.Format[first];
        columns.SensorRate[whole] = columns.SensorRate[first];
        columns.Raster[whole] = columns.Raster[first];
        columns.Camera[whole] = columns.Camera[first];
        columns.Flags[whole] = columns.Flags[first];
        return new(whole, chunks.DrainToImmutable(), expected, missing.DrainToImmutable(), broken.DrainToImmutable(), copies.DrainToImmutable());
    }

    private const int MostMissingListed = 1_000;

    private readonly record struct TakeKey(string Folded, ClipKind Kind, ushort Format, string Name)
    {
        // Two spellings of one take name are one take.
        public bool Equals(TakeKey other) => Folded == other.Folded && Kind == other.Kind && Format == other.Format;

        public override int GetHashCode() => HashCode.Combine(Folded, Kind, Format);
    }
}
