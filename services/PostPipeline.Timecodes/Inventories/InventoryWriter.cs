using System.Globalization;
using System.Text;
using PostPipeline.Timecodes.Conforming;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>Writes clips as CSV with our own headers; what it writes reads back as the same clips.</summary>
public static class InventoryWriter
{
    /// <summary>The header row and one row a clip.</summary>
    /// <param name="clips">The clips.</param>
    public static string ToCsv(IEnumerable<Clip> clips)
    {
        StringBuilder text = new();
        CsvText.Row(text, [.. InventoryMapping.DocumentedHeaders]);
        foreach (Clip clip in clips)
        {
            CsvText.Row(
                text,
                clip.Name,
                clip.Reel,
                clip.Start is { } start ? Timecode.FromFrames(start, clip.Format).ToString() : string.Empty,
                string.Empty,
                Number(clip.Frames),
                clip.Format.Rate.ToString(),
                clip.Format.DropFrame ? "yes" : "no",
                clip.Kind switch { ClipKind.Original => "original", ClipKind.Proxy => "proxy", _ => "mezzanine" },
                clip.Camera,
                clip.Date is { } date ? date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : string.Empty,
                clip.Take,
                clip.Chunk > 0 ? Number(clip.Chunk) : string.Empty,
                clip.Chunks > 0 ? Number(clip.Chunks) : string.Empty,
                clip.Bytes is { } bytes ? Number(bytes) : string.Empty,
                clip.Medium,
                clip.Trimmable switch { Trimmability.Yes => "yes", Trimmability.No => "no", _ => "unknown" },
                clip.SensorRate?.ToString() ?? string.Empty,
                clip.Raster is { } raster ? Number(raster.Width) : string.Empty,
                clip.Raster is { } picture ? Number(picture.Height) : string.Empty);
        }

        return text.ToString();
    }

    private static string Number(long value) => value.ToString(CultureInfo.InvariantCulture);
}
