using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>
/// The record of a sweep: a CSV that grows by a line a cell and is flushed with each, so that a sweep that is killed
/// goes on where it stopped. A line cut off by the kill is dropped.
/// </summary>
public sealed class SweepRecord : IDisposable
{
    private readonly StreamWriter writer;

    private SweepRecord(StreamWriter writer, Dictionary<int, SweepCell> cells) => (this.writer, Recorded) = (writer, cells);

    /// <summary>Cells that stood in the file when it was opened.</summary>
    public IReadOnlyDictionary<int, SweepCell> Recorded { get; }

    /// <summary>Opens a record, or begins one.</summary>
    /// <param name="path">The file.</param>
    /// <param name="sweep">The sweep.</param>
    /// <param name="pipelines">Names of the pipelines.</param>
    /// <exception cref="InvalidDataException">The file belongs to another question.</exception>
    public static SweepRecord Open(string path, Sweep sweep, IReadOnlyList<string> pipelines)
    {
        string digest = $"# question {Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(sweep.Question)))}";
        string head = string.Join(',', [.. sweep.Axes.Select(a => a.Input), "cell", "preferred", .. pipelines.SelectMany(p => sweep.Outputs.Select(o => $"{p} {o}"))]);
        Dictionary<int, SweepCell> cells = [];
        FileStream stream = new(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read);
        try
        {
            long kept = Read(stream, digest, sweep, pipelines.Count, cells);
            stream.SetLength(kept);
            stream.Seek(kept, SeekOrigin.Begin);
            StreamWriter writer = new(stream, new UTF8Encoding(false)) { NewLine = "\n", AutoFlush = true };
            if (kept == 0)
            {
                writer.WriteLine(digest);
                writer.WriteLine(head);
            }

            return new(writer, cells);
        }
        catch
        {
            stream.Dispose();
            throw;
        }
    }

    /// <summary>Writes a cell down.</summary>
    /// <param name="cell">The cell.</param>
    public void Add(SweepCell cell) => writer.WriteLine(string.Join(',', [
        .. cell.Values.Select(Text), cell.Number.ToString(CultureInfo.InvariantCulture), cell.Preferred, .. cell.Outputs.SelectMany(o => o).Select(Text)]));

    /// <inheritdoc/>
    public void Dispose() => writer.Dispose();

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    // Answers how many bytes of the file are whole lines.
    private static long Read(FileStream stream, string digest, Sweep sweep, int pipelines, Dictionary<int, SweepCell> cells)
    {
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        int end = Array.LastIndexOf(bytes, (byte)'\n') + 1;
        string[] lines = Encoding.UTF8.GetString(bytes, 0, end).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        if (lines.Length == 0)
        {
            return 0;
        }

        if (lines[0] != digest)
        {
            throw new InvalidDataException(lines[0].StartsWith("# question ", StringComparison.Ordinal)
                ? "the file holds the record of another sweep: another brief, grid, seed or number of draws; name another file, or delete it"
                : "the file is no record of a sweep and is left as it is; name another file");
        }

        foreach (string line in lines.Skip(2))
        {
            string[] parts = line.Split(',');
            int axes = sweep.Axes.Count;
            if (parts.Length == axes + 2 + (pipelines * sweep.Outputs.Count) && int.TryParse(parts[axes], out int number))
            {
                double[] numbers = [.. parts[(axes + 2)..].Select(p => double.Parse(p, CultureInfo.InvariantCulture))];
                cells[number] = new(
                    number,
                    [.. parts[..axes].Select(p => double.Parse(p, CultureInfo.InvariantCulture))],
                    parts[axes + 1],
                    [.. numbers.Chunk(sweep.Outputs.Count).Select(c => (IReadOnlyList<double>)c)]);
            }
        }

        return lines.Length < 2 ? 0 : end;
    }
}
