using System.Numerics;
using System.Runtime.Intrinsics;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>Finds the ends of the cells of a row that has no quotation marks.</summary>
internal static class CellSplitter
{
    /// <summary>More cells than any inventory has; a row with more is an error.</summary>
    public const int Capacity = 256;

    /// <summary>Fills in where each cell ends.</summary>
    /// <returns>The number of cells; −1 where a quotation mark asks for the slow way; −2 where there are too many cells.</returns>
    public static int Split(ReadOnlySpan<byte> row, byte separator, Span<int> ends)
    {
        int count = 0;
        int at = 0;
        Vector128<byte> separators = Vector128.Create(separator);
        Vector128<byte> quotes = Vector128.Create((byte)'"');
        while (at + Vector128<byte>.Count <= row.Length)
        {
            Vector128<byte> bytes = Vector128.Create(row.Slice(at, Vector128<byte>.Count));
            if (Vector128.EqualsAny(bytes, quotes))
            {
                return -1;
            }

            for (uint hits = Vector128.Equals(bytes, separators).ExtractMostSignificantBits(); hits != 0; hits &= hits - 1)
            {
                if (count == ends.Length - 1)
                {
                    return -2;
                }

                ends[count++] = at + BitOperations.TrailingZeroCount(hits);
            }

            at += Vector128<byte>.Count;
        }

        for (; at < row.Length; at++)
        {
            if (row[at] == '"')
            {
                return -1;
            }

            if (row[at] == separator)
            {
                if (count == ends.Length - 1)
                {
                    return -2;
                }

                ends[count++] = at;
            }
        }

        ends[count++] = row.Length;
        return count;
    }
}
