using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>Names compared without regard to the case of ASCII letters, as file systems and lists mangle it.</summary>
internal static class FoldedText
{
    private const ulong CaseBits = 0x2020_2020_2020_2020;
    private const ulong Multiplier = 0x9E37_79B9_7F4A_7C15;

    /// <summary>A hash that does not depend on case.</summary>
    public static uint Hash(ReadOnlySpan<byte> text)
    {
        // Hashing wraps on purpose. Setting the case bit everywhere also joins a few signs; equality tells them apart.
        unchecked
        {
            ulong hash = (ulong)text.Length * Multiplier;
            while (text.Length >= 8)
            {
                hash = Mix(hash ^ (BinaryPrimitives.ReadUInt64LittleEndian(text) | CaseBits));
                text = text[8..];
            }

            if (text.Length > 0)
            {
                ulong rest = 0;
                for (int i = 0; i < text.Length; i++)
                {
                    rest = (rest << 8) | text[i] | 0x20;
                }

                hash = Mix(hash ^ rest);
            }

            return (uint)(hash ^ (hash >> 32));
        }
    }

    /// <summary>Whether two texts are the same but for the case of ASCII letters.</summary>
    public static bool Equal(ReadOnlySpan<byte> a, ReadOnlySpan<byte> b)
    {
        if (a.Length != b.Length)
        {
            return false;
        }

        if (a.SequenceEqual(b))
        {
            return true;
        }

        for (int i = 0; i < a.Length; i++)
        {
            if (a[i] != b[i] && Lower(a[i]) != Lower(b[i]))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>A name without its file extension: a last full stop and one to four letters or digits, one of them a letter.</summary>
    public static ReadOnlySpan<byte> Stem(ReadOnlySpan<byte> name)
    {
        int from = Math.Max(1, name.Length - 5);
        int point = name[Math.Min(from, name.Length)..].LastIndexOf((byte)'.');
        if (point < 0)
        {
            return name;
        }

        point += from;
        bool letter = false;
        for (int i = point + 1; i < name.Length; i++)
        {
            byte c = Lower(name[i]);
            if (c is >= (byte)'a' and <= (byte)'z')
            {
                letter = true;
            }
            else if (c is < (byte)'0' or > (byte)'9')
            {
                return name;
            }
        }

        return letter ? name[..point] : name;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static byte Lower(byte c) => c is >= (byte)'A' and <= (byte)'Z' ? (byte)(c | 0x20) : c;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Mix(ulong value)
    {
        unchecked
        {
            value *= Multiplier;
            return value ^ (value >> 29);
        }
    }
}
