using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Embedded;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.LinearTimecode;
using LabelError = PostPipeline.Timecodes.LabelError;
using LabelFormat = PostPipeline.Contracts.Timecodes.V1.LabelFormat;

namespace PostPipeline.Benchmarks.Timecodes;

/// <summary>
/// A label round trip at 30000/1001 drop-frame: frame index → characters in the caller's span → frame index, over
/// indexes scattered through the day; beside the same trip through general-purpose libraries where they are installed.
/// </summary>
internal static class TimecodeBenchmarks
{
    private const int Labels = 2_000_000;
    private const int Batch = 10_000;

    // Coprime to the 2,589,408 frames of the day, so the walk visits frames in a scattered order.
    private const int Stride = 1_618_033;

    private const double RequiredRatio = 6;

    /// <summary>Runs the area.</summary>
    /// <param name="args">None.</param>
    /// <returns>0, or 1 where a required ratio is not met.</returns>
    public static int Run(string[] args)
    {
        TimecodeFormat format = TimecodeFormat.Fps30000Over1001Drop;
        long sum = 0;
        Measure.Cost characters = Measure.Median(Labels, () => sum = RoundTripCharacters(format));
        Measure.Cost bytes = Measure.Median(Labels, () => sum = RoundTripBytes(format));
        Measure.Print("label round trip, 30000/1001 drop-frame, UTF-16", characters);
        Measure.Print("label round trip, 30000/1001 drop-frame, UTF-8", bytes);

        Measure.Print("the same in arrays of 10,000 (UTF-8)", Measure.Median(Labels, () => Arrays(format)));
        Measure.Print("linear-timecode word and back", Measure.Median(Labels, () => Words(format)));
        Measure.Print("the same in calls of 10,000 to the embedded service", EmbeddedCalls().GetAwaiter().GetResult());

        bool met = characters.AllocatedBytes < 0.01;
        long hash = Hash(format);
        foreach (Peer peer in Peer.All)
        {
            if (peer.TryMeasure(Labels, Stride, out double nanoseconds, out (long Sum, long Hash) result, out string reason))
            {
                bool agrees = result == (sum, hash);
                double ratio = nanoseconds / characters.Nanoseconds;
                Console.WriteLine($"{peer.Name,-58} {nanoseconds,10:F1} ns; ours is {ratio:F1} times as fast; all {Labels} labels {(agrees ? "agree" : "DIFFER")}");
                met &= !peer.Required || (ratio >= RequiredRatio && agrees);
            }
            else
            {
                Console.WriteLine($"{peer.Name,-58} skipped: {reason}");
            }
        }

        return met ? 0 : 1;
    }

    // 32-bit FNV-1a over the characters of all labels, as the peers reckon it.
    private static uint Hash(TimecodeFormat format)
    {
        Span<byte> text = stackalloc byte[11];
        uint hash = 2166136261;
        for (int i = 0; i < Labels; i++)
        {
            Timecode.FromFrames((long)i * Stride, format).TryFormat(text, out _);
            foreach (byte character in text)
            {
                hash = unchecked((hash ^ character) * 16777619); // the hash is defined modulo 2³²
            }
        }

        return hash;
    }

    // In batches, so that the method is called often and the runtime replaces its first, unoptimised form.
    private static long RoundTripCharacters(TimecodeFormat format)
    {
        long sum = 0;
        long index = 0;
        for (int i = 0; i < Labels / Batch; i++)
        {
            sum += RoundTripCharacters(format, ref index);
        }

        return sum;
    }

    private static long RoundTripCharacters(TimecodeFormat format, ref long index)
    {
        Span<char> text = stackalloc char[11];
        long sum = 0;
        for (int i = 0; i < Batch; i++)
        {
            Timecode.FromFrames(index, format).TryFormat(text, out _);
            Timecode.TryParse(text, format, out Timecode back, out _);
            sum += back.FrameIndex;
            index += Stride;
            index = index >= format.FramesPerDay ? index - format.FramesPerDay : index;
        }

        return sum;
    }

    private static long RoundTripBytes(TimecodeFormat format)
    {
        long sum = 0;
        long index = 0;
        for (int i = 0; i < Labels / Batch; i++)
        {
            sum += RoundTripBytes(format, ref index);
        }

        return sum;
    }

    private static long RoundTripBytes(TimecodeFormat format, ref long index)
    {
        Span<byte> text = stackalloc byte[11];
        long sum = 0;
        for (int i = 0; i < Batch; i++)
        {
            Timecode.FromFrames(index, format).TryFormat(text, out _);
            Timecode.TryParse(text, format, out Timecode back, out _);
            sum += back.FrameIndex;
            index += Stride;
            index = index >= format.FramesPerDay ? index - format.FramesPerDay : index;
        }

        return sum;
    }

    private static void Arrays(TimecodeFormat format)
    {
        long[] indexes = [.. Enumerable.Range(0, Batch).Select(i => (long)i * Stride)];
        byte[] labels = new byte[Batch * format.LabelLength];
        LabelError[] errors = new LabelError[Batch];
        for (int i = 0; i < Labels / Batch; i++)
        {
            LabelBatch.Format(format, indexes, labels);
            LabelBatch.Parse(format, labels, format.LabelLength, indexes, errors);
        }
    }

    private static void Words(TimecodeFormat format)
    {
        LtcFormat ltc = LtcFormat.From(format);
        Span<byte> bytes = stackalloc byte[LtcWord.ByteCount];
        for (int i = 0; i < Labels; i++)
        {
            LtcWord.FromLabel(Timecode.FromFrames((long)i * Stride, format), ltc).Write(bytes);
            LtcWord.TryRead(bytes, out LtcWord word);
            word.TryGetLabel(ltc, out _);
        }
    }

    private static async Task<Measure.Cost> EmbeddedCalls()
    {
        await using EmbeddedSuite suite = new();
        TimecodeService.TimecodeServiceClient client = suite.Clients.Timecode;
        LabelFormat format = new() { Rate = new() { Numerator = 30000, Denominator = 1001 }, DropFrame = true };
        long[] indexes = [.. Enumerable.Range(0, Batch).Select(i => (long)i * Stride)];
        return Measure.Median(20 * Batch, () =>
        {
            for (int i = 0; i < 20; i++)
            {
                FormatLabelsResponse labels = client.FormatLabels(new() { Format = format, FrameIndices = { indexes } });
                client.ParseLabels(new() { Format = format, LabelWidth = labels.LabelWidth, Labels = labels.Labels });
            }
        });
    }
}
