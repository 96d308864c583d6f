using System.IO.Compression;
using PostPipeline.RenderTimes;
using PostPipeline.Testing;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>
/// Measured video-encode times: 964 videos × 201 settings, and 8 videos × 201 settings on 30 machines (Lesoil et al.,
/// "input sensitivity", MIT licence), found through POSTPIPELINE_CHECKS. Inputs are the settings, the category, the
/// frames and the features of the videos; what a run produced is never an input.
/// </summary>
internal static class EncodeTimes
{
    /// <summary>Columns that are results of the run.</summary>
    public static readonly string[] Results = ["size", "usertime", "systemtime", "elapsedtime", "cpu", "fps", "kbs", "etime"];

    private static readonly string[] SettingColumns =
    [
        "cabac", "ref", "deblock", "analyse", "me", "subme", "mixed_ref", "me_range", "trellis", "8x8dct", "fast_pskip", "chroma_qp_offset",
        "bframes", "b_pyramid", "b_adapt", "direct", "weightb", "open_gop", "weightp", "scenecut", "rc_lookahead", "mbtree", "qpmax", "aq-mode",
    ];

    /// <summary>The 964 videos, or every n-th of them.</summary>
    /// <param name="every">1 for all.</param>
    public static BenchmarkTable Videos(int every)
    {
        string[][] features = [.. Lines(Outside.Data("encode_times/video_features.csv"))];
        string[] featureNames = features[0][1..];
        Dictionary<string, string[]> byVideo = features.Skip(1).ToDictionary(r => r[0], r => r[1..]);
        string[][] rows = [.. Lines(Outside.Data("encode_times/encode_times.csv.gz"))];
        string[] own = ["video", "etime", "frames", "category", .. SettingColumns];
        int[] positions = [.. own.Select(c => Array.IndexOf(rows[0], c))];
        BenchmarkTableBuilder builder = new(
            new([.. own, .. featureNames], "etime", "frames", "video", ["category", .. SettingColumns], ["frames", .. featureNames]), invented: false);
        Dictionary<string, int> order = [];
        foreach (string[] row in rows.Skip(1))
        {
            string video = row[positions[0]];
            order.TryAdd(video, order.Count);
            if (order[video] % every == 0)
            {
                // The file writes a missing feature as [NULL].
                Add(builder, [.. positions.Select(p => row[p]), .. byVideo[video].Select(v => v == "[NULL]" ? string.Empty : v)]);
            }
        }

        return builder.Build();
    }

    /// <summary>The 30 machines.</summary>
    public static BenchmarkTable Machines()
    {
        string[][] rows = [.. Lines(Outside.Data("encode_times/encode_times_30_machines.csv.gz"))];
        string[] own = ["machine", "etime", "video", .. SettingColumns];
        int[] positions = [.. own.Select(c => Array.IndexOf(rows[0], c))];
        BenchmarkTableBuilder builder = new(new([.. own], "etime", string.Empty, "machine", ["video", .. SettingColumns], []), invented: false);
        foreach (string[] row in rows.Skip(1))
        {
            Add(builder, [.. positions.Select(p => row[p])]);
        }

        return builder.Build();
    }

    private static void Add(BenchmarkTableBuilder builder, string[] cells)
    {
        if (!builder.Add(cells))
        {
            throw new InvalidDataException(builder.Violations[0].ToString());
        }
    }

    private static IEnumerable<string[]> Lines(string path)
    {
        using Stream file = File.OpenRead(path);
        using Stream text = path.EndsWith(".gz", StringComparison.Ordinal) ? new GZipStream(file, CompressionMode.Decompress) : file;
        using StreamReader reader = new(text);
        while (reader.ReadLine() is string line)
        {
            yield return line.Split(',');
        }
    }
}
