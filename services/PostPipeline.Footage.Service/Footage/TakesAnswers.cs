using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Recordings;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>Reads takes and writes the files they are cut into.</summary>
internal static class TakesAnswers
{
    public static TakesTally? Answer(TakesItem item, ItemProblems problems, bool explain)
    {
        problems.Label(item.Label);
        problems.InRange("bytes_per_frame", item.BytesPerFrame, 1, 1L << 40);
        if (item.PeakBytesPerFrame != 0)
        {
            problems.InRange("peak_bytes_per_frame", item.PeakBytesPerFrame, Math.Max(1, item.BytesPerFrame), 1L << 40);
        }

        problems.InRange("frames_per_group", item.FramesPerGroup, 0, 10_000);
        problems.InRange("bytes_per_file", item.BytesPerFile, 0, 1L << 30);
        for (int i = 0; i < item.TakeFrames.Count; i++)
        {
            if (item.TakeFrames[i] is < 1 or > 1_000_000_000)
            {
                problems.Add($"take_frames[{i}]", $"is {item.TakeFrames[i]}; allowed is 1 to 1000000000");
            }
        }

        ChunkLimit limit = ReadLimit(item, problems);
        if (!problems.None)
        {
            return null;
        }

        long peak = item.PeakBytesPerFrame == 0 ? item.BytesPerFrame : item.PeakBytesPerFrame;
        limit = limit.WithGroups(Math.Max(1, item.FramesPerGroup));
        TakeTally tally = TakeTally.Of(item.TakeFrames, item.BytesPerFrame, peak, limit, item.BytesPerFile);
        TakesTally message = new() { Files = tally.Files, Frames = tally.Frames, Bytes = tally.Bytes.Bytes };
        foreach (long frames in item.TakeFrames)
        {
            ChunkedTake take = ChunkedTake.Cut(frames, peak, limit, item.BytesPerFile);
            message.Takes.Add(new CutTake { Files = take.Count, FramesPerFile = take.FramesPerChunk, LastFrames = take.LastFrames });
        }

        message.Derivation = explain ? Wire.Of(TakeExplanation.Of(tally, item.BytesPerFrame, peak, limit, item.BytesPerFile)) : null;
        return message;
    }

    private static ChunkLimit ReadLimit(TakesItem item, ItemProblems problems)
    {
        if (item.LimitCase == TakesItem.LimitOneofCase.LimitBytes)
        {
            return problems.InRange("limit_bytes", item.LimitBytes, 1, long.MaxValue) ? ChunkLimit.From(DataSize.FromBytes(item.LimitBytes)) : default;
        }

        if (item.FileSystem is not (FileSystem.Fat32 or FileSystem.Exfat))
        {
            problems.Add("limit", "is not set; allowed is limit_bytes, or file_system FAT32 or exFAT");
        }

        return item.FileSystem == FileSystem.Exfat ? ChunkLimit.ExFat : ChunkLimit.Fat32;
    }
}
