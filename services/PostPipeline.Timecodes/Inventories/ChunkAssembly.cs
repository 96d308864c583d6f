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

    private static TakeKey Key(ClipRows columns, ChunkRow chunk)
    {
        string take = chunk.Take.Length > 0 ? chunk.Take : TakeName(Encoding.UTF8.GetString(FoldedText.Stem(columns.Name(chunk.Row))));
        return new(take.ToUpperInvariant(), columns.Kind(chunk.Row), columns.Rows[chunk.Row].Format, take);
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
        ClipRows columns = builder.Columns;
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

            bool labelled = columns.Rows[first].Start >= 0 && columns.Rows[row.Row].Start >= 0;
            long byLabel = labelled ? format.Wrap((long)columns.Rows[row.Row].Start - columns.Rows[first].Start) : offset;
            if (chunks.Count > 0 && row.Number == number + 1 && byLabel != offset)
            {
                broken.Add(number);
            }

            // A take is shorter than a label day; labels that run backwards are a break, not a day of frames.
            offset = byLabel < format.FramesPerDay / 2 ? Math.Max(byLabel, offset) : offset;
            chunks.Add(new(row.Row, row.Number, offset, columns.Rows[row.Row].Frames));
            offset += columns.Rows[row.Row].Frames;
            bytes = columns.Rows[row.Row].Bytes < 0 || bytes < 0 ? -1 : checked(bytes + columns.Rows[row.Row].Bytes);
            number = row.Number;
        }

        for (int gap = number + 1; gap <= expected && missing.Count < MostMissingListed; gap++)
        {
            missing.Add(gap);
        }

        int whole = columns.Append(Encoding.UTF8.GetBytes(key.Name));
        columns.Rows[whole].Reel = columns.Rows[first].Reel;
        columns.Rows[whole].Start = columns.Rows[first].Start;
        columns.Rows[whole].Frames = (int)Math.Min(offset, Clip.MaximumFrames);
        columns.Rows[whole].Bytes = bytes;
        columns.Rows[whole].Medium = columns.Rows[first].Medium;
        columns.Rows[whole].Day = columns.Rows[first].Day;
        columns.Rows[whole].Format = columns.Rows[first].Format;
        columns.Rows[whole].SensorRate = columns.Rows[first].SensorRate;
        columns.Rows[whole].Raster = columns.Rows[first].Raster;
        columns.Rows[whole].Camera = columns.Rows[first].Camera;
        columns.Rows[whole].Flags = columns.Rows[first].Flags;
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
