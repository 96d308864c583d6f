using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Testing;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.LinearTimecode;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class LtcTests
{
    // Source: tests/Tables/timecode/ltc_codewords.csv, words made by libltc 1.3.2; bit layout of SMPTE ST 12-1.
    [Fact]
    public void Words_EveryRow_AreTheTablesBothWays()
    {
        CsvTable table = CsvTable.Read(Outside.Table("timecode/ltc_codewords.csv"));
        Assert.Equal(6, table.Rows.Count);
        foreach (CsvTable.Row row in table.Rows)
        {
            FrameRate rate = row["drop"] == "1" ? FrameRate.Fps30000Over1001 : FrameRate.From(TimecodeTableTests.Number(row["nominal_fps"]), 1);
            LtcFormat format = LtcFormat.From(TimecodeFormat.From(rate, row["drop"] == "1"));
            Timecode label = Timecode.Parse(row["timecode"], format.Frames);
            byte[] expected = Convert.FromHexString(row["bytes_hex_lsb_first_per_byte"]);

            LtcWord word = LtcWord.FromLabel(label, format);
            byte[] bytes = new byte[LtcWord.ByteCount];
            word.Write(bytes);
            Assert.Equal(expected, bytes);
            Assert.Equal(row["bits_0_to_79"], word.ToString());

            Assert.Equal(LtcFault.None, LtcWord.TryRead(expected, out LtcWord read));
            Assert.Equal(LtcFault.None, read.TryGetLabel(format, out Timecode back));
            Assert.Equal(label, back);
            Assert.True(read.HasEvenParity);
        }
    }

    // Every word of a label day: read back it is the same label, and it holds an even number of ones.
    [Theory]
    [InlineData(30000, 1001, true)]
    [InlineData(25, 1, false)]
    public void Words_EveryFrameOfTheDay_ReadBackTheSame(long numerator, long denominator, bool drop)
    {
        TimecodeFormat frames = TimecodeFormat.From(FrameRate.From(numerator, denominator), drop);
        LtcFormat format = LtcFormat.From(frames);
        Span<byte> bytes = stackalloc byte[LtcWord.ByteCount];
        for (long index = 0; index < frames.FramesPerDay; index++)
        {
            LtcWord.FromLabel(Timecode.FromFrames(index, frames), format).Write(bytes);
            if (LtcWord.TryRead(bytes, out LtcWord word) != LtcFault.None || !word.HasEvenParity
                || word.TryGetLabel(format, out Timecode back) != LtcFault.None || back.FrameIndex != index)
            {
                Assert.Fail($"frame {index} at {frames}: {word}");
            }
        }
    }

    // Source: SMPTE ST 12-1: at 50 and 60 (and 48) one word stands for a pair of frames.
    [Theory]
    [InlineData(50, 1, false, "10:11:12:48", 24)]
    [InlineData(60, 1, false, "10:11:12:58", 29)]
    [InlineData(48, 1, false, "10:11:12:46", 23)]
    [InlineData(60000, 1001, true, "10:11:12;58", 29)]
    public void FromLabel_HighRates_OneWordForBothFramesOfAPair(long numerator, long denominator, bool drop, string first, int wordFrames)
    {
        LtcFormat format = LtcFormat.From(TimecodeFormat.From(FrameRate.From(numerator, denominator), drop));
        Timecode label = Timecode.Parse(first, format.Frames);
        LtcWord word = LtcWord.FromLabel(label, format);
        Assert.Equal(word, LtcWord.FromLabel(label + 1, format));
        Assert.NotEqual(word, LtcWord.FromLabel(label + 2, format));
        Assert.Equal(new LabelFields(10, 11, 12, wordFrames), word.Fields);
        Assert.Equal(LtcFault.None, word.TryGetLabel(format, out Timecode back));
        Assert.Equal(label, back);
    }

    [Theory]
    [InlineData(72, 1, "goes up to 60")]
    [InlineData(96, 1, "goes up to 60")]
    [InlineData(120000, 1001, "goes up to 60")]
    [InlineData(12, 1, "it carries 24, 25 and 30")]
    [InlineData(2997, 100, "it carries 24, 25 and 30")]
    public void TryCreate_RateThatLinearTimecodeDoesNotCarry_SaysWhy(long numerator, long denominator, string reason)
    {
        Assert.False(LtcFormat.TryCreate(TimecodeFormat.From(FrameRate.From(numerator, denominator)), out _, out string problem));
        Assert.Contains(reason, problem);
        Assert.Throws<ArgumentOutOfRangeException>(() => LtcFormat.From(TimecodeFormat.From(FrameRate.From(numerator, denominator))));
    }

    [Fact]
    public void Words_AnyLabelAndUserBits_ReadBackWhole() =>
        Gen.Select(
            Gen.OneOf(
                TimecodeFormat.Fps24000Over1001, TimecodeFormat.Fps24, TimecodeFormat.Fps25, TimecodeFormat.Fps30000Over1001Drop, TimecodeFormat.Fps30,
                TimecodeFormat.From(FrameRate.From(50, 1)), TimecodeFormat.From(FrameRate.From(60000, 1001), true), TimecodeFormat.From(FrameRate.From(48000, 1001))),
            Gen.Long,
            Gen.UInt,
            Gen.Bool,
            Gen.Int[0, 7]).Sample((frames, index, user, colour, flags) =>
            {
                LtcFormat format = LtcFormat.From(frames);
                Timecode label = Timecode.FromFrames(index, frames);
                LtcWord word = LtcWord.FromLabel(label, format, user, colour, flags);
                byte[] bytes = new byte[LtcWord.ByteCount];
                word.Write(bytes);
                LtcFault fault = LtcWord.TryRead(bytes, out LtcWord read);
                return fault == LtcFault.None && read == word && read.HasEvenParity
                    && read.UserBits == user && read.ColourFrame == colour && read.BinaryGroupFlags(format) == flags && read.DropFrame == frames.DropFrame
                    && read.TryGetLabel(format, out Timecode back) == LtcFault.None && back == label - (label.FrameIndex % format.FramesPerWord);
            });

    // Any eighty bits are a label or a fault, never an exception.
    [Fact]
    public void TryRead_AnyBytes_GiveALabelOrAFault() =>
        Gen.Select(Gen.Byte.Array[0, 12], Gen.Bool).Sample((bytes, sync) =>
        {
            if (sync && bytes.Length == LtcWord.ByteCount)
            {
                (bytes[8], bytes[9]) = (0xFC, 0xBF);
            }

            LtcFormat format = LtcFormat.From(TimecodeFormat.Fps30000Over1001Drop);
            LtcFault fault = LtcWord.TryRead(bytes, out LtcWord word);
            if (fault != LtcFault.None)
            {
                return bytes.Length != LtcWord.ByteCount ? fault == LtcFault.Length : fault == LtcFault.SyncWord;
            }

            return word.TryGetLabel(format, out Timecode label) != LtcFault.None || label.FrameIndex < format.Frames.FramesPerDay;
        });

    [Theory]
    [InlineData(0, 0x0B, LtcFault.Digit)]
    [InlineData(1, 0x00, LtcFault.DropFlag)]
    [InlineData(1, 0x07, LtcFault.Frames)]
    [InlineData(3, 0x06, LtcFault.Seconds)]
    [InlineData(5, 0x06, LtcFault.Minutes)]
    [InlineData(7, 0x03, LtcFault.Hours)]
    public void TryGetLabel_OneWrongByte_SaysWhat(int at, byte value, LtcFault expected)
    {
        LtcFormat format = LtcFormat.From(TimecodeFormat.Fps30000Over1001Drop);
        byte[] bytes = new byte[LtcWord.ByteCount];
        LtcWord.FromLabel(Timecode.Parse("01:00:00;00", format.Frames), format).Write(bytes);
        bytes[at] = value;
        Assert.Equal(LtcFault.None, LtcWord.TryRead(bytes, out LtcWord word));
        Assert.Equal(expected, word.TryGetLabel(format, out _));
    }

    [Fact]
    public void TryGetLabel_DroppedLabel_IsRefused()
    {
        // 00:01:00 frame 0 with the drop-frame flag set.
        byte[] bytes = new byte[LtcWord.ByteCount];
        LtcWord.FromLabel(Timecode.Parse("00:01:00:00", TimecodeFormat.Fps30), LtcFormat.From(TimecodeFormat.Fps30)).Write(bytes);
        bytes[1] |= 0x04;
        Assert.Equal(LtcFault.None, LtcWord.TryRead(bytes, out LtcWord word));
        Assert.Equal(LtcFault.Dropped, word.TryGetLabel(LtcFormat.From(TimecodeFormat.Fps30000Over1001Drop), out _));
    }
}
