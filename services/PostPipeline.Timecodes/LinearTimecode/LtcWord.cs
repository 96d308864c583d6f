using System.Buffers.Binary;
using System.Numerics;

namespace PostPipeline.Timecodes.LinearTimecode;

/// <summary>
/// One 80-bit word of linear timecode (SMPTE ST 12-1): decimal digits of the label, eight groups of four user bits,
/// flags, and a fixed synchronising word. Bit 0 is sent first; in bytes, the first bit is the least significant.
/// </summary>
/// <remarks>
/// Bits: 0–3 frame units, 8–9 frame tens, 10 drop-frame flag, 11 colour-frame flag, 16–19 second units, 24–26 second
/// tens, 32–35 minute units, 40–42 minute tens, 48–51 hour units, 56–57 hour tens, 58 binary-group flag 1; bits 4–7,
/// 12–15 … 60–63 user groups 1 to 8; bit 27 polarity correction, 43 and 59 binary-group flags 0 and 2 at 24 and 30; at
/// 25 bit 59 is the polarity correction, 27 and 43 the flags 0 and 2; 64–79 0011111111111101.
/// </remarks>
public readonly record struct LtcWord
{
    /// <summary>Bytes in a word.</summary>
    public const int ByteCount = 10;

    /// <summary>The synchronising word in bits 64 to 79, least significant bit first.</summary>
    private const ushort SyncWord = 0xBFFC;

    private readonly ulong data;

    private LtcWord(ulong data) => this.data = data;

    /// <summary>Bits 0 to 63, bit 0 the least significant.</summary>
    public ulong DataBits => data;

    /// <summary>The four numbers as they stand in the word, unchecked.</summary>
    public LabelFields Fields => new(Decimal(48, 56, 2), Decimal(32, 40, 3), Decimal(16, 24, 3), Decimal(0, 8, 2));

    /// <summary>The drop-frame flag, bit 10.</summary>
    public bool DropFrame => Bit(10);

    /// <summary>The colour-frame flag, bit 11.</summary>
    public bool ColourFrame => Bit(11);

    /// <summary>Eight groups of four user bits, group 1 in the least significant four.</summary>
    public uint UserBits
    {
        get
        {
            uint user = 0;
            for (int group = 0; group < 8; group++)
            {
                user |= (uint)((data >> ((8 * group) + 4)) & 0xF) << (4 * group);
            }

            return user;
        }
    }

    /// <summary>Whether the word holds an even number of ones, as the polarity correction sees to.</summary>
    public bool HasEvenParity => (BitOperations.PopCount(data) + BitOperations.PopCount((uint)SyncWord)) % 2 == 0;

    /// <summary>The word of a frame.</summary>
    /// <param name="label">A label of the format that counts every frame.</param>
    /// <param name="format">How linear timecode carries it.</param>
    /// <param name="userBits">Eight groups of four bits, group 1 in the least significant four.</param>
    /// <param name="colourFrame">The colour-frame flag.</param>
    /// <param name="binaryGroupFlags">Flags 0, 1 and 2 in bits 0, 1 and 2: what the user bits mean. 0 to 7.</param>
    /// <exception cref="ArgumentException">The label has another format.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The flags are not 0 to 7.</exception>
    public static LtcWord FromLabel(Timecode label, LtcFormat format, uint userBits = 0, bool colourFrame = false, int binaryGroupFlags = 0)
    {
        if (!label.Format.Equals(format.Frames))
        {
            throw new ArgumentException($"'{label}' counts {label.Format}, not {format.Frames} frames per second.", nameof(label));
        }

        Quantities.Guard.InRange(binaryGroupFlags, 0, 7);
        LabelFields fields = format.Words.FieldsOf(label.FrameIndex / format.FramesPerWord);
        ulong bits = Digits(fields.Frames, 0, 8) | Digits(fields.Seconds, 16, 24) | Digits(fields.Minutes, 32, 40) | Digits(fields.Hours, 48, 56);
        for (int group = 0; group < 8; group++)
        {
            bits |= (ulong)((userBits >> (4 * group)) & 0xF) << ((8 * group) + 4);
        }

        (int flag0, int flag2, int polarity) = FlagBits(format);
        bits |= Flag(format.Frames.DropFrame, 10) | Flag(colourFrame, 11)
            | Flag((binaryGroupFlags & 1) != 0, flag0) | Flag((binaryGroupFlags & 2) != 0, 58) | Flag((binaryGroupFlags & 4) != 0, flag2);
        LtcWord word = new(bits);
        return word.HasEvenParity ? word : new(bits | Flag(true, polarity));
    }

    /// <summary>Reads ten bytes, the first bit in the least significant place; the digits are not yet checked.</summary>
    /// <param name="bytes">Ten bytes.</param>
    /// <param name="word">The word, or <c>default</c>.</param>
    /// <returns>What is wrong: length or synchronising word.</returns>
    public static LtcFault TryRead(ReadOnlySpan<byte> bytes, out LtcWord word)
    {
        word = default;
        if (bytes.Length != ByteCount)
        {
            return LtcFault.Length;
        }

        if (BinaryPrimitives.ReadUInt16LittleEndian(bytes[8..]) != SyncWord)
        {
            return LtcFault.SyncWord;
        }

        word = new(BinaryPrimitives.ReadUInt64LittleEndian(bytes));
        return LtcFault.None;
    }

    /// <summary>Writes ten bytes, the first bit in the least significant place.</summary>
    /// <param name="destination">At least ten bytes.</param>
    public void Write(Span<byte> destination)
    {
        BinaryPrimitives.WriteUInt64LittleEndian(destination, data);
        BinaryPrimitives.WriteUInt16LittleEndian(destination[8..], SyncWord);
    }

    /// <summary>The label of the first frame that the word stands for.</summary>
    /// <param name="format">How linear timecode carries the label format.</param>
    /// <param name="label">The label, or <c>default</c>.</param>
    /// <returns>Why the word is no label of the format, or <see cref="LtcFault.None"/>.</returns>
    public LtcFault TryGetLabel(LtcFormat format, out Timecode label)
    {
        label = default;
        if (HasWrongDigit)
        {
            return LtcFault.Digit;
        }

        if (DropFrame != format.Words.DropFrame)
        {
            return LtcFault.DropFlag;
        }

        LabelFault fault = format.Words.TryGetFrameIndex(Fields, DroppedLabels.Refuse, out long word);
        if (fault == LabelFault.None)
        {
            label = Timecode.FromFrames(word * format.FramesPerWord, format.Frames);
        }

        return fault switch
        {
            LabelFault.None => LtcFault.None,
            LabelFault.Hours => LtcFault.Hours,
            LabelFault.Minutes => LtcFault.Minutes,
            LabelFault.Seconds => LtcFault.Seconds,
            LabelFault.Dropped => LtcFault.Dropped,
            _ => LtcFault.Frames,
        };
    }

    /// <summary>Binary-group flags 0, 1 and 2 in bits 0, 1 and 2; where they stand depends on the rate.</summary>
    /// <param name="format">How linear timecode carries the label format.</param>
    public int BinaryGroupFlags(LtcFormat format)
    {
        (int flag0, int flag2, _) = FlagBits(format);
        return (Bit(flag0) ? 1 : 0) | (Bit(58) ? 2 : 0) | (Bit(flag2) ? 4 : 0);
    }

    /// <summary>The eighty bits as sent, bit 0 first.</summary>
    public override string ToString() =>
        string.Create(80, data, static (span, bits) =>
        {
            for (int i = 0; i < 80; i++)
            {
                ulong bit = i < 64 ? bits >> i : (ulong)SyncWord >> (i - 64);
                span[i] = (bit & 1) == 1 ? '1' : '0';
            }
        });

    private bool HasWrongDigit => Nibble(0) > 9 || Nibble(16) > 9 || Nibble(32) > 9 || Nibble(48) > 9;

    private static (int Flag0, int Flag2, int Polarity) FlagBits(LtcFormat format) => format.PolarityAtBit59 ? (27, 43, 59) : (43, 59, 27);

    private static ulong Digits(int number, int units, int tens) => ((ulong)(number % 10) << units) | ((ulong)(number / 10) << tens);

    private static ulong Flag(bool set, int bit) => set ? 1UL << bit : 0;

    private int Nibble(int from) => (int)((data >> from) & 0xF);

    private bool Bit(int at) => ((data >> at) & 1) == 1;

    private int Decimal(int units, int tens, int tensBits) => Nibble(units) + (10 * (int)((data >> tens) & ((1UL << tensBits) - 1)));
}
