using System.Diagnostics.CodeAnalysis;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.LinearTimecode;

/// <summary>
/// How linear timecode carries a label format: one 80-bit word a frame at 24, 25 and 30, one word for each pair of
/// frames at 48, 50 and 60 (and their 1000/1001 relatives), none above 60 (SMPTE ST 12-1).
/// </summary>
public sealed record LtcFormat
{
    private LtcFormat(TimecodeFormat frames, TimecodeFormat words, int framesPerWord)
    {
        Frames = frames;
        Words = words;
        FramesPerWord = framesPerWord;
    }

    /// <summary>The format that counts every frame.</summary>
    public TimecodeFormat Frames { get; }

    /// <summary>The format that counts words: 25 for 50 frames a second.</summary>
    public TimecodeFormat Words { get; }

    /// <summary>1, or 2 where a word stands for a pair of frames.</summary>
    public int FramesPerWord { get; }

    /// <summary>Whether bit 59, rather than bit 27, corrects the polarity: at 25 words a second.</summary>
    internal bool PolarityAtBit59 => Words.Nominal == 25;

    /// <summary>The way in which linear timecode carries a format.</summary>
    /// <param name="frames">The format that counts every frame.</param>
    /// <exception cref="ArgumentOutOfRangeException">Linear timecode does not carry it; the message says why.</exception>
    public static LtcFormat From(TimecodeFormat frames) =>
        TryCreate(frames, out LtcFormat? format, out string problem)
            ? format
            : throw new ArgumentOutOfRangeException(nameof(frames), frames.ToString(), problem);

    /// <summary>The way in which linear timecode carries a format, or why it does not.</summary>
    /// <param name="frames">The format that counts every frame.</param>
    /// <param name="format">The way, or null.</param>
    /// <param name="problem">The reason, or an empty text.</param>
    public static bool TryCreate(TimecodeFormat frames, [NotNullWhen(true)] out LtcFormat? format, out string problem)
    {
        format = null;
        problem = string.Empty;
        bool usual = frames.Rate.FramesPerSecond == frames.Nominal || frames.Rate.FramesPerSecond == new Rational(frames.Nominal * 1000L, 1001);
        int framesPerWord = frames.Nominal switch
        {
            24 or 25 or 30 when usual => 1,
            48 or 50 or 60 when usual => 2,
            _ => 0,
        };
        if (framesPerWord == 0)
        {
            problem = frames.Nominal > 60
                ? $"linear timecode cannot carry {frames.Rate} frames per second: it goes up to 60, by pairs of frames (SMPTE ST 12-1)"
                : $"linear timecode cannot carry {frames.Rate} frames per second; it carries 24, 25 and 30, by pairs of frames 48, 50 and 60, and 1000/1001 of these (SMPTE ST 12-1)";
            return false;
        }

        TimecodeFormat words = framesPerWord == 1
            ? frames
            : TimecodeFormat.From(FrameRate.From(frames.Rate.FramesPerSecond / 2), frames.DropFrame);
        format = new(frames, words, framesPerWord);
        return true;
    }
}
