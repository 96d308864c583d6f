using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace PostPipeline.Timecodes.Labels;

/// <summary>
/// Frame index to characters, UTF-16 or UTF-8, in the caller's memory: no allocation, no division instruction,
/// two digits a store.
/// </summary>
internal static class LabelWriter
{
    // "00" to "99", as pairs of UTF-16 units and as pairs of bytes, in memory order.
    private static readonly uint[] CharPairs = [.. Enumerable.Range(0, 100).Select(n => MemoryMarshal.Cast<char, uint>(n.ToString("00").AsSpan())[0])];
    private static readonly ushort[] BytePairs =
        [.. Enumerable.Range(0, 100).Select(n => MemoryMarshal.Cast<byte, ushort>(System.Text.Encoding.ASCII.GetBytes(n.ToString("00")))[0])];

    /// <summary>Writes the label of a frame index that lies in the day; returns false where it does not fit.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool TryWrite<T>(TimecodeFormat format, long index, Span<T> destination)
        where T : unmanaged, IBinaryInteger<T>
    {
        if (destination.Length < format.LabelLength)
        {
            return false;
        }

        uint seconds;
        int frames;
        if (format.Divisions.Fits)
        {
            (seconds, frames) = Split(format, (uint)index);
        }
        else
        {
            (long wholeSeconds, long restFrames) = Math.DivRem(index, format.Nominal);
            (seconds, frames) = ((uint)wholeSeconds, (int)restFrames);
        }

        uint minutes = seconds / 60;
        uint hours = minutes / 60;
        ref T start = ref MemoryMarshal.GetReference(destination);
        T colon = T.CreateTruncating(':');
        WritePair(ref start, 0, hours);
        Unsafe.Add(ref start, 2) = colon;
        WritePair(ref start, 3, unchecked(minutes - (60 * hours))); // remainders of a division: 0 to 59
        Unsafe.Add(ref start, 5) = colon;
        WritePair(ref start, 6, unchecked(seconds - (60 * minutes)));
        Unsafe.Add(ref start, 8) = format.DropFrame ? T.CreateTruncating(';') : colon;
        if (format.FrameDigits == 2)
        {
            WritePair(ref start, 9, (uint)frames);
        }
        else
        {
            WriteWide(destination.Slice(9, format.FrameDigits), frames);
        }

        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (uint Seconds, int Frames) Split(TimecodeFormat format, uint index)
    {
        // Every number here is below 2^31 (LabelDivisions.Fits), so nothing can overflow.
        unchecked
        {
            uint label = index;
            if (format.DropFrame)
            {
                uint tens = format.Divisions.ByTenMinutes(index);
                uint rest = index - (tens * (uint)format.FramesPerTenMinutes);

                // The first minute of ten is longer by the dropped labels, so shift it off: rest − dropped ≥ 0 from minute 1 on.
                uint dropped = (uint)format.DroppedPerMinute;
                uint minute = rest < dropped ? 0 : format.Divisions.ByMinute(rest - dropped);
                label += dropped * ((9 * tens) + minute);
            }

            uint seconds = format.Divisions.BySecond(label);
            return (seconds, (int)(label - (seconds * (uint)format.Nominal)));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void WritePair<T>(ref T start, int at, uint number)
        where T : unmanaged
    {
        if (typeof(T) == typeof(char))
        {
            Unsafe.WriteUnaligned(ref Unsafe.As<T, byte>(ref Unsafe.Add(ref start, at)), CharPairs[number]);
        }
        else
        {
            Unsafe.WriteUnaligned(ref Unsafe.As<T, byte>(ref Unsafe.Add(ref start, at)), BytePairs[number]);
        }
    }

    private static void WriteWide<T>(Span<T> destination, int number)
        where T : unmanaged, IBinaryInteger<T>
    {
        for (int i = destination.Length - 1; i >= 0; i--)
        {
            destination[i] = T.CreateTruncating('0' + (number % 10));
            number /= 10;
        }
    }
}
