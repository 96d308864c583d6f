using System.Numerics;
using System.Runtime.CompilerServices;

namespace PostPipeline.Timecodes.Labels;

/// <summary>Characters, UTF-16 or UTF-8, to a frame index: no allocation, and an error that says what and where.</summary>
internal static class LabelReader
{
    private const int ShortestLabel = 10;

    /// <summary>Reads a label.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static LabelError TryRead<T>(TimecodeFormat format, ReadOnlySpan<T> text, DroppedLabels dropped, out long frameIndex)
        where T : unmanaged, IBinaryInteger<T>
    {
        // Most labels are eleven characters of one shape; what is not goes the slow way, which knows the reason.
        if (text.Length == 11 && TryReadCommon(format, text, out frameIndex))
        {
            return default;
        }

        return ReadAny(format, text, dropped, out frameIndex);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool TryReadCommon<T>(TimecodeFormat format, ReadOnlySpan<T> text, out long frameIndex)
        where T : unmanaged, IBinaryInteger<T>
    {
        // A character below '0' turns into a huge number, which the range checks catch; that wrap is meant.
        unchecked
        {
            uint hoursTens = uint.CreateTruncating(text[0]) - '0';
            uint hoursUnits = uint.CreateTruncating(text[1]) - '0';
            uint minutesTens = uint.CreateTruncating(text[3]) - '0';
            uint minutesUnits = uint.CreateTruncating(text[4]) - '0';
            uint secondsTens = uint.CreateTruncating(text[6]) - '0';
            uint secondsUnits = uint.CreateTruncating(text[7]) - '0';
            uint framesTens = uint.CreateTruncating(text[9]) - '0';
            uint framesUnits = uint.CreateTruncating(text[10]) - '0';
            uint hours = (hoursTens * 10) + hoursUnits;
            uint frames = (framesTens * 10) + framesUnits;
            uint mark = uint.CreateTruncating(text[8]);
            frameIndex = 0;
            if (hoursTens > 2 || hoursUnits > 9 || hours > 23
                || minutesTens > 5 || minutesUnits > 9
                || secondsTens > 5 || secondsUnits > 9
                || framesTens > 9 || framesUnits > 9 || frames >= (uint)format.Nominal
                || uint.CreateTruncating(text[2]) != ':' || uint.CreateTruncating(text[5]) != ':'
                || (mark != ':' && (mark != ';' || !format.DropFrame)))
            {
                return false;
            }

            uint drop = (uint)format.DroppedPerMinute;
            if (frames < drop && (secondsTens | secondsUnits) == 0 && minutesUnits != 0)
            {
                return false;
            }

            uint tens = (hours * 6) + minutesTens;
            uint totalSeconds = (600 * tens) + (60 * minutesUnits) + (10 * secondsTens) + secondsUnits;
            frameIndex = ((long)totalSeconds * format.Nominal) + frames - (drop * ((9 * tens) + minutesUnits));
            return true;
        }
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static LabelError ReadAny<T>(TimecodeFormat format, ReadOnlySpan<T> text, DroppedLabels dropped, out long frameIndex)
        where T : unmanaged, IBinaryInteger<T>
    {
        frameIndex = 0;
        if (text.Length < ShortestLabel)
        {
            return new(LabelFault.Form, 0);
        }

        Span<int> fields = stackalloc int[4];
        Span<int> starts = stackalloc int[4];
        int at = 0;
        for (int field = 0; field < 4; field++)
        {
            starts[field] = at;

            // Hours may come with one digit; frames with two, or with as many as the format prints.
            int least = field == 0 ? 1 : 2;
            int most = field == 3 ? format.FrameDigits : 2;
            int digits = 0;
            for (; digits < most && at < text.Length; digits++, at++)
            {
                uint digit = unchecked(uint.CreateTruncating(text[at]) - '0');
                if (digit > 9)
                {
                    break;
                }

                fields[field] = (10 * fields[field]) + (int)digit;
            }

            if (digits < least)
            {
                return new(at >= text.Length ? LabelFault.Form : LabelFault.Digit, at);
            }

            if (field == 3)
            {
                break;
            }

            if (at >= text.Length)
            {
                return new(LabelFault.Form, at);
            }

            LabelFault separator = Separator(format, uint.CreateTruncating(text[at]), last: field == 2);
            if (separator != LabelFault.None)
            {
                return new(separator, at);
            }

            at++;
        }

        if (at != text.Length)
        {
            return new(LabelFault.Form, at);
        }

        LabelFault fault = format.TryGetFrameIndex(new(fields[0], fields[1], fields[2], fields[3]), dropped, out frameIndex);
        return new(fault, fault switch
        {
            LabelFault.Minutes => starts[1],
            LabelFault.Seconds => starts[2],
            LabelFault.Frames or LabelFault.Dropped => starts[3],
            _ => 0,
        });
    }

    // Drop-frame labels are written with ; before the frames, or between all fields; some equipment writes a point
    // or a comma there. A colon claims nothing: lists with a drop-frame mode line use it throughout.
    private static LabelFault Separator(TimecodeFormat format, uint character, bool last) => character switch
    {
        ':' => LabelFault.None,
        ';' => format.DropFrame ? LabelFault.None : LabelFault.DropMark,
        '.' or ',' when last => format.DropFrame ? LabelFault.None : LabelFault.DropMark,
        _ => LabelFault.Separator,
    };
}
