using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.Json;

namespace PostPipeline.Client.Conforming;

/// <summary>
/// Lists the media of a folder as an inventory (CSV), by asking ffprobe about each file. Run by the client: services
/// never open a path and never start a program.
/// </summary>
public static class MediaFolder
{
    private const int MostFiles = 100_000;

    private static readonly HashSet<string> Extensions = new(StringComparer.OrdinalIgnoreCase) { ".mov", ".mxf", ".mp4", ".m4v", ".mkv", ".avi", ".ts", ".mts" };

    /// <summary>Lists a folder and the folders inside it.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="kind">original, proxy or mezzanine.</param>
    /// <param name="note">Told about files that could not be read.</param>
    /// <param name="cancellationToken">Ends the listing.</param>
    /// <returns>Rows below the header, and the files with their sizes, relative to the folder.</returns>
    /// <exception cref="IOException">The folder cannot be read, or ffprobe is not installed.</exception>
    public static async Task<(string Rows, IReadOnlyList<(string Path, long Bytes)> Files)> ListAsync(
        string folder, string kind, Action<string> note, CancellationToken cancellationToken = default)
    {
        StringBuilder rows = new();
        List<(string, long)> files = [];
        foreach (string path in Directory.EnumerateFiles(folder, "*", new EnumerationOptions { RecurseSubdirectories = true, IgnoreInaccessible = false }).Order(StringComparer.Ordinal))
        {
            if (files.Count >= MostFiles)
            {
                throw new IOException($"'{folder}' holds more than {MostFiles} files, which is the limit.");
            }

            long bytes = new FileInfo(path).Length;
            string relative = Path.GetRelativePath(folder, path).Replace('\\', '/');
            files.Add((relative, bytes));
            if (!Extensions.Contains(Path.GetExtension(path)))
            {
                continue;
            }

            string? row = bytes == 0 ? null : Row(path, kind, bytes, await ProbeAsync(path, cancellationToken).ConfigureAwait(false));
            if (row is null)
            {
                note($"{relative}: no picture could be read{(bytes == 0 ? ", the file is empty" : string.Empty)}");
            }
            else
            {
                rows.Append(row);
            }
        }

        return (rows.ToString(), files);
    }

    /// <summary>The header of the rows.</summary>
    public const string Header = "name,start,frames,rate,drop,kind,bytes,width,height\n";

    private static string? Row(string path, string kind, long bytes, string json)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        JsonElement root = document.RootElement;
        JsonElement? video = null;
        string label = string.Empty;
        foreach (JsonElement stream in Array(root, "streams"))
        {
            if (video is null && Text(stream, "codec_type") == "video")
            {
                video = stream;
            }

            label = label.Length > 0 ? label : Tag(stream);
        }

        label = label.Length > 0 || !root.TryGetProperty("format", out JsonElement format) ? label : Tag(format);
        if (video is not { } picture)
        {
            return null;
        }

        string rate = Text(picture, "r_frame_rate");
        string frames = Text(picture, "nb_frames");
        if (frames.Length == 0)
        {
            // Some containers do not say how many frames they hold; then they were counted.
            frames = Text(picture, "nb_read_packets");
        }

        string[] parts = rate.Split('/');
        rate = parts is [var whole, "1"] ? whole : rate;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Cell(Path.GetFileName(path))},{label},{frames},{rate},{(label.Length == 0 ? string.Empty : label.Contains(';', StringComparison.Ordinal) ? "yes" : "no")},{kind},{bytes},{Text(picture, "width")},{Text(picture, "height")}\n");
    }

    private static async Task<string> ProbeAsync(string path, CancellationToken cancellationToken)
    {
        string plain = await RunAsync(path, [], cancellationToken).ConfigureAwait(false);
        return plain.Contains("\"nb_frames\"", StringComparison.Ordinal) ? plain : await RunAsync(path, ["-count_packets"], cancellationToken).ConfigureAwait(false);
    }

    private static async Task<string> RunAsync(string path, string[] more, CancellationToken cancellationToken)
    {
        ProcessStartInfo start = new("ffprobe") { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (string argument in (string[])["-v", "error", .. more, "-print_format", "json", "-show_streams", "-show_format", "-i", "file:" + path])
        {
            start.ArgumentList.Add(argument);
        }

        Process process;
        try
        {
            process = Process.Start(start) ?? throw new IOException("ffprobe could not be started.");
        }
        catch (System.ComponentModel.Win32Exception failure)
        {
            throw new IOException("ffprobe is not installed; it is part of ffmpeg.", failure);
        }

        using (process)
        {
            Task<string> errors = process.StandardError.ReadToEndAsync(cancellationToken);
            try
            {
                string output = await process.StandardOutput.ReadToEndAsync(cancellationToken).ConfigureAwait(false);
                await errors.ConfigureAwait(false);
                await process.WaitForExitAsync(cancellationToken).ConfigureAwait(false);
                return output.Length == 0 ? "{}" : output;
            }
            catch (OperationCanceledException)
            {
                process.Kill(entireProcessTree: true);
                throw;
            }
        }
    }

    private static JsonElement.ArrayEnumerator Array(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out JsonElement value) && value.ValueKind == JsonValueKind.Array ? value.EnumerateArray() : default;

    private static string Text(JsonElement element, string name) =>
        element.TryGetProperty(name, out JsonElement value)
            ? value.ValueKind == JsonValueKind.String ? value.GetString() ?? string.Empty : value.ToString()
            : string.Empty;

    private static string Tag(JsonElement element) =>
        element.TryGetProperty("tags", out JsonElement tags) && tags.ValueKind == JsonValueKind.Object ? Text(tags, "timecode") : string.Empty;

    private static string Cell(string text) => text.AsSpan().IndexOfAny(",\"\n\r") >= 0 ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
}
