using System.Text;
using PostPipeline.Client;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Benchmarks;

/// <summary>A comma-separated file with a header row.</summary>
/// <param name="Path">The file as the user named it.</param>
/// <param name="Columns">The header.</param>
public sealed record RowFile(string Path, IReadOnlyList<string> Columns)
{
    private const int RowsAReport = 1_000;

    /// <summary>Reads the header.</summary>
    /// <param name="path">The file, UTF-8 text with or without a byte order mark.</param>
    /// <exception cref="BriefException">It cannot be read as rows of cells.</exception>
    public static RowFile Open(string path)
    {
        using StreamReader reader = Text(path);
        foreach ((long _, string[] cells) in Guarded(path, reader))
        {
            return new(path, [.. cells.Select(c => c.Trim())]);
        }

        throw new BriefException([new BriefProblem(path, 0, 0, string.Empty, string.Empty, "the file is empty; its first row names the columns")]);
    }

    /// <summary>The rows below the header, with the line on which each begins.</summary>
    /// <param name="progress">Told the part that was read, 0 to 1, now and then.</param>
    /// <exception cref="BriefException">A row cannot be read, or has not as many cells as the header.</exception>
    public IEnumerable<(long Line, string[] Cells)> Rows(IProgress<double>? progress = null)
    {
        using StreamReader reader = Text(Path);
        int count = 0;
        foreach ((long line, string[] cells) in Guarded(Path, reader).Skip(1))
        {
            if (cells.Length != Columns.Count)
            {
                throw new BriefException([new BriefProblem(
                    Path, line, 0, string.Empty, string.Empty, $"the row has {cells.Length} cells; the header has {Columns.Count} columns")]);
            }

            if (progress is not null && ++count % RowsAReport == 0)
            {
                progress.Report((double)reader.BaseStream.Position / Math.Max(1, reader.BaseStream.Length));
            }

            yield return (line, cells);
        }
    }

    /// <summary>Some columns of a row as features; empty cells are left out.</summary>
    /// <param name="cells">The row.</param>
    /// <param name="names">The columns wanted; those that the file lacks are left out.</param>
    public IEnumerable<KeyValuePair<string, string>> Features(string[] cells, IEnumerable<string> names)
    {
        foreach (string name in names)
        {
            int position = Position(name);
            if (position >= 0 && cells[position].Trim() is { Length: > 0 } value)
            {
                yield return new(name, value);
            }
        }
    }

    /// <summary>What a service refused, by line and column where it is about rows of this file.</summary>
    /// <param name="list">The request's name for the rows, such as <c>own_rows</c>.</param>
    /// <param name="violations">What was refused.</param>
    public IEnumerable<BriefProblem> Problems(string list, IReadOnlyList<FieldViolation> violations)
    {
        long[] lines = [.. Rows().Select(r => r.Line)];
        foreach (FieldViolation violation in violations)
        {
            yield return ItemPlace.In(list, violation.Field) is { } row
                ? new(Path, lines[row.Index], 0, Feature(row.Rest), string.Empty, violation.Problem)
                : new(Path, 0, 0, violation.Field, string.Empty, violation.Problem);
        }
    }

    /// <summary>The feature that a field names: <c>gpu</c> of <c>features[gpu]</c>.</summary>
    /// <param name="field">The field.</param>
    public static string Feature(string field) =>
        field.StartsWith("features[", StringComparison.Ordinal) && field.EndsWith(']') ? field["features[".Length..^1] : field;

    /// <summary>The position of a column; −1 where there is none of that name.</summary>
    /// <param name="column">Its name.</param>
    public int Position(string column)
    {
        for (int i = 0; i < Columns.Count; i++)
        {
            if (Columns[i] == column)
            {
                return i;
            }
        }

        return -1;
    }

    /// <summary>The position of a column that must be there.</summary>
    /// <param name="option">The option that named it.</param>
    /// <param name="column">Its name.</param>
    /// <exception cref="BriefException">There is none of that name.</exception>
    public int Needed(string option, string column) => Position(column) is >= 0 and int found
        ? found
        : throw new BriefException([new BriefProblem(Path, 1, 0, option, column, $"the file has no such column; it has {string.Join(", ", Columns)}")]);

    // A byte that is no UTF-8 must not quietly become another name.
    private static StreamReader Text(string path) => new(path, new UTF8Encoding(false, true));

    private static IEnumerable<(long Line, string[] Cells)> Guarded(string path, TextReader reader)
    {
        using IEnumerator<(long Line, string[] Cells)> rows = CsvRows.Read(reader).GetEnumerator();
        while (true)
        {
            try
            {
                if (!rows.MoveNext())
                {
                    yield break;
                }
            }
            catch (CsvFormatException wrong)
            {
                throw new BriefException([new BriefProblem(path, wrong.Line, 0, string.Empty, string.Empty, wrong.Problem)]);
            }
            catch (DecoderFallbackException)
            {
                throw new BriefException([new BriefProblem(path, 0, 0, string.Empty, string.Empty, "the file is not UTF-8 text; allowed is UTF-8, with or without a byte order mark")]);
            }

            yield return rows.Current;
        }
    }
}
