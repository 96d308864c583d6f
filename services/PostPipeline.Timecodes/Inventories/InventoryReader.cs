using System.Collections.Immutable;
using System.Text;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>
/// Reads an inventory from CSV (RFC 4180; comma, semicolon or tab, told by the header row) as it comes, in pieces of
/// any size. Rows go straight into columns: no text of a row is kept.
/// </summary>
public sealed class InventoryReader
{
    private readonly InventoryReadOptions options;
    private readonly InventoryRows rows;
    private byte[] pending = new byte[256];
    private int pendingLength;
    private int line;
    private int linesInPending;
    private bool sawHeader;
    private bool overlong;

    /// <summary>Starts a reading.</summary>
    /// <param name="options">Mapping and limits; null for the defaults.</param>
    public InventoryReader(InventoryReadOptions? options = null)
    {
        this.options = options ?? new();
        rows = new(this.options);
    }

    /// <summary>Reads a whole file that is in memory.</summary>
    /// <param name="csv">The file's bytes, UTF-8.</param>
    /// <param name="options">Mapping and limits; null for the defaults.</param>
    public static InventoryReading Read(ReadOnlySpan<byte> csv, InventoryReadOptions? options = null)
    {
        InventoryReader reader = new(options);
        reader.Append(csv);
        return reader.Finish();
    }

    /// <summary>Reads a stream to its end.</summary>
    /// <param name="csv">The file, UTF-8.</param>
    /// <param name="options">Mapping and limits; null for the defaults.</param>
    /// <param name="cancellationToken">Ends the reading early.</param>
    public static InventoryReading Read(Stream csv, InventoryReadOptions? options = null, CancellationToken cancellationToken = default)
    {
        InventoryReader reader = new(options);
        byte[] block = new byte[1 << 17];
        int read;
        bool first = true;
        while ((read = csv.Read(block)) > 0)
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (first && csv.CanSeek)
            {
                reader.Expect(csv.Length, block.AsSpan(0, read));
            }

            first = false;
            reader.Append(block.AsSpan(0, read));
        }

        return reader.Finish();
    }

    /// <summary>Takes the next piece of the file.</summary>
    /// <param name="piece">Any number of bytes; a row may begin in one piece and end in another.</param>
    public void Append(ReadOnlySpan<byte> piece)
    {
        // Most files have no quotation mark at all; one look at the piece spares a look at each row.
        bool anyQuote = piece.Contains((byte)'"');
        while (!piece.IsEmpty)
        {
            int end = piece.IndexOf((byte)'\n');
            if (end < 0)
            {
                Keep(piece);
                return;
            }

            if (pendingLength == 0 && !overlong && !(anyQuote && HasOpenQuote(piece[..end])))
            {
                TakeRow(piece[..end], 1);
            }
            else
            {
                Keep(piece[..(end + 1)]);
                linesInPending++;
                if (overlong || !HasOpenQuote(pending.AsSpan(0, pendingLength)))
                {
                    TakePending();
                }
            }

            piece = piece[(end + 1)..];
        }
    }

    /// <summary>Ends the reading and builds the inventory.</summary>
    public InventoryReading Finish()
    {
        if (pendingLength > 0 || overlong)
        {
            linesInPending++;
            TakePending();
        }

        if (!sawHeader)
        {
            rows.Refuse(1, 1, "header", $"the file is empty; the first row names the columns, for example {string.Join(',', InventoryMapping.DocumentedHeaders)}");
        }

        return rows.Finish();
    }

    private void Expect(long bytes, ReadOnlySpan<byte> start)
    {
        // Judged by the rows of the first piece; a few more, as an estimate that is a little short doubles the columns.
        long rowsInStart = Math.Max(1, start.Count((byte)'\n'));
        rows.Expect((int)Math.Min(options.MaximumRows, (bytes * rowsInStart / start.Length * 17 / 16) + 16));
    }

    private static bool HasOpenQuote(ReadOnlySpan<byte> row) => row.Contains((byte)'"') && (row.Count((byte)'"') & 1) == 1;

    private void Keep(ReadOnlySpan<byte> bytes)
    {
        if (overlong || pendingLength + bytes.Length > options.MaximumRowBytes)
        {
            // Nothing longer than the limit is held; the row is refused when its end is found.
            overlong = true;
            pendingLength = 0;
            return;
        }

        if (pendingLength + bytes.Length > pending.Length)
        {
            Array.Resize(ref pending, Math.Max(pendingLength + bytes.Length, pending.Length * 2));
        }

        bytes.CopyTo(pending.AsSpan(pendingLength));
        pendingLength += bytes.Length;
    }

    private void TakePending()
    {
        int length = pendingLength;
        int lines = linesInPending;
        bool tooLong = overlong;
        (pendingLength, linesInPending, overlong) = (0, 0, false);
        if (tooLong)
        {
            line += lines;
            sawHeader = true;
            rows.Refuse(line, options.MaximumRowBytes + 1, "row", $"the row is longer than {options.MaximumRowBytes} bytes, which is the limit, or a quotation mark is not closed");
            return;
        }

        TakeRow(pending.AsSpan(0, length).TrimEnd((byte)'\n'), lines);
    }

    private void TakeRow(ReadOnlySpan<byte> row, int lines)
    {
        int first = line + 1;
        line += lines;
        if (row.Length > 0 && row[^1] == '\r')
        {
            row = row[..^1];
        }

        if (row.Length > options.MaximumRowBytes)
        {
            sawHeader = true;
            rows.Refuse(first, options.MaximumRowBytes + 1, "row", $"the row has {row.Length} bytes; allowed are {options.MaximumRowBytes}");
            return;
        }

        if (!sawHeader)
        {
            if (row.StartsWith("\uFEFF"u8))
            {
                row = row[3..];
            }

            if (row.IsEmpty)
            {
                return;
            }

            sawHeader = true;
            rows.TakeHeader(row, first);
        }
        else if (!row.IsEmpty)
        {
            rows.Take(row, first);
        }
    }
}
