using System.Text;
using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class TimecodeParseTests
{
    private static readonly TimecodeFormat Drop = TimecodeFormat.Fps30000Over1001Drop;
    private static readonly TimecodeFormat Drop120 = TimecodeFormat.From(FrameRate.From(120000, 1001), dropFrame: true);

    internal static readonly Gen<TimecodeFormat> AnyFormat = Gen.OneOf(
        TimecodeFormat.Fps24000Over1001, TimecodeFormat.Fps24, TimecodeFormat.Fps25, TimecodeFormat.Fps30000Over1001, Drop, TimecodeFormat.Fps30,
        Of(48000, 1001), Of(48, 1), Of(50, 1), Of(60000, 1001), Of(60000, 1001, true), Of(60, 1), Of(72, 1), Of(96, 1), Of(100, 1), Of(120000, 1001), Drop120,
        Of(120, 1), Of(1000, 1), Of(50_000, 1), Of(1_000_000, 1), Of(25, 2), Of(default(FrameRate).Numerator, 1));

    // Forms of the trade: colons; semicolons before the frames or throughout; a point or comma before the frames; one
    // digit of hours. Common practice, no source.
    [Theory]
    [InlineData("01:00:00;00")]
    [InlineData("01:00:00:00")]
    [InlineData("01;00;00;00")]
    [InlineData("01:00:00.00")]
    [InlineData("01:00:00,00")]
    [InlineData("1:00:00;00")]
    public void TryParse_FormsOfADropFrameLabel_AreOneLabel(string text) =>
        Assert.Equal(107_892, Timecode.Parse(text, Drop).FrameIndex);

    [Theory]
    [InlineData("00:00:00;008")]
    [InlineData("00:00:00;08")]
    [InlineData("00:00:00:008")]
    public void TryParse_ThreeDigitFrames_MayBeWrittenWithTwo(string text) =>
        Assert.Equal(8, Timecode.Parse(text, Drop120).FrameIndex);

    [Theory]
    [InlineData("", LabelFault.Form, 0)]
    [InlineData("01:00", LabelFault.Form, 0)]
    [InlineData("01:00:00;0", LabelFault.Form, 10)]
    [InlineData("01:00:00:00:00", LabelFault.Form, 11)]
    [InlineData("01:00:00;000", LabelFault.Form, 11)]
    [InlineData("01:00:00;00 ", LabelFault.Form, 11)]
    [InlineData(" 1:00:00;00", LabelFault.Digit, 0)]
    [InlineData("-1:00:00;00", LabelFault.Digit, 0)]
    [InlineData("01:0x:00;00", LabelFault.Digit, 4)]
    [InlineData("01:00:00;0½", LabelFault.Digit, 10)]
    [InlineData("01-00-00-00", LabelFault.Separator, 2)]
    [InlineData("001:00:00;00", LabelFault.Separator, 2)]
    [InlineData("01.00.00.00", LabelFault.Separator, 2)]
    [InlineData("24:00:00;00", LabelFault.Hours, 0)]
    [InlineData("99:00:00;00", LabelFault.Hours, 0)]
    [InlineData("23:60:00;00", LabelFault.Minutes, 3)]
    [InlineData("23:59:60;00", LabelFault.Seconds, 6)]
    [InlineData("23:59:59;30", LabelFault.Frames, 9)]
    [InlineData("00:01:00;00", LabelFault.Dropped, 9)]
    [InlineData("00:01:00:01", LabelFault.Dropped, 9)]
    [InlineData("23:59:00;00", LabelFault.Dropped, 9)]
    public void TryParse_NotADropFrameLabel_SaysWhatAndWhere(string text, LabelFault fault, int position)
    {
        Assert.False(Timecode.TryParse(text, Drop, out Timecode label, out LabelError error));
        Assert.Equal(new LabelError(fault, position), error);
        Assert.Equal(default, label);
        Assert.NotEmpty(error.Describe(text, Drop));

        // The same in UTF-8, where it is the same bytes.
        Assert.False(Timecode.TryParse(Encoding.UTF8.GetBytes(text), Drop, out _, out LabelError utf8Error));
        Assert.Equal(error, utf8Error);
    }

    // Source: SMPTE ST 12-1: a drop-frame mark has no meaning where no labels are left out.
    [Theory]
    [InlineData("01:00:00;00", 8)]
    [InlineData("01:00:00.00", 8)]
    [InlineData("01;00;00;00", 2)]
    public void TryParse_DropFrameMarkOnANonDropFormat_IsRefused(string text, int position)
    {
        Assert.False(Timecode.TryParse(text, TimecodeFormat.Fps24, out _, out LabelError error));
        Assert.Equal(new LabelError(LabelFault.DropMark, position), error);
        Assert.Contains("marked as drop-frame", error.Describe(text, TimecodeFormat.Fps24));
    }

    // Source: SMPTE ST 12-1: 00:01:00;00 and ;01 are left out, 00:10:00;00 is not.
    [Theory]
    [InlineData("00:01:00;00", "00:01:00;02")]
    [InlineData("00:01:00;01", "00:01:00;02")]
    [InlineData("00:01:00;02", "00:01:00;02")]
    [InlineData("00:10:00;00", "00:10:00;00")]
    public void TryParse_SnapForward_GivesTheNextLabelThatExists(string text, string expected) =>
        Assert.Equal(expected, Timecode.Parse(text, Drop, DroppedLabels.SnapForward).ToString());

    [Fact]
    public void Parse_DroppedLabel_ThrowsWithTheReason()
    {
        var refused = Assert.Throws<FormatException>(() => Timecode.Parse("00:01:00;00", Drop));
        Assert.Contains("'00:01:00;00' is a dropped label", refused.Message);
    }

    [Fact]
    public void Describe_AVeryLongText_IsCutShort() =>
        Assert.True(new LabelError(LabelFault.Form, 0).Describe(new string('x', 100_000), Drop).Length < 200);

    [Fact]
    public void ParseOfFormat_AnyFormatAndFrame_IsTheIdentity() =>
        Gen.Select(AnyFormat, Gen.Long).Sample((format, frames) =>
        {
            Timecode label = Timecode.FromFrames(frames, format);
            string text = label.ToString();
            return text.Length == format.LabelLength
                && Timecode.Parse(text, format) == label
                && Timecode.TryParse(Encoding.ASCII.GetBytes(text), format, out Timecode utf8, out _) && utf8 == label
                && Timecode.FromFields(label.Fields, format) == label;
        });

    // Any bytes at all: an error inside the text, or a label whose own spelling reads as the same label. POSTPIPELINE_LONG=1 tries
    // a million.
    [Fact]
    public void TryParse_RandomBytes_GiveAnErrorOrALabel()
    {
        long count = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 1_000_000 : 10_000;
        Gen.Select(AnyFormat, Gen.OneOf<byte>(Gen.Byte, Gen.Byte[(byte)'0', (byte)';'], Gen.Byte[(byte)'0', (byte)'5']).Array[0, 16]).Sample(
            (format, bytes) =>
            {
                bool read = Timecode.TryParse(bytes, format, out Timecode label, out LabelError error);
                return error.Position >= 0 && error.Position <= bytes.Length && read == error.IsNone
                    && (!read || Timecode.Parse(label.ToString(), format) == label);
            },
            iter: count);
    }

    // Nearly a label: the same answer in UTF-16 and UTF-8, an error inside the text or a label whose own spelling reads as the
    // same label.
    [Fact]
    public void TryParse_MutatedLabels_GiveAnErrorOrAStableLabel() =>
        Gen.Select(AnyFormat, Gen.Long, Gen.Int[0, 11], Gen.Char.AlphaNumeric.Array[0, 2], Gen.OneOf(":", ";", ".", "", "0", "9"))
            .Sample((format, frames, at, letters, separator) =>
            {
                string text = Timecode.FromFrames(frames, format).ToString();
                text = text.Insert(Math.Min(at, text.Length), new string(letters));
                text = at < text.Length ? text.Remove(at, 1).Insert(at, separator) : text + separator;
                bool read = Timecode.TryParse(text, format, out Timecode label, out LabelError error);
                bool again = Timecode.TryParse(Encoding.UTF8.GetBytes(text), format, out Timecode utf8, out LabelError utf8Error);
                return read == again && error == utf8Error && label == utf8 && error.Position <= text.Length
                    && (!read || Timecode.Parse(label.ToString(), format) == label);
            });

    // The fast way reads 01:00:00:00 and 01:00:00;00; one digit of hours, semicolons throughout and three digits of frames go the
    // slow way. Both must give one frame.
    [Fact]
    public void TryParse_FastAndSlowSpellings_GiveOneFrame() =>
        Gen.Select(AnyFormat, Gen.Long).Sample((format, frames) =>
        {
            Timecode label = Timecode.FromFrames(frames, format);
            string text = label.ToString();
            bool drop = format.DropFrame;
            return (!drop || Timecode.Parse(text.Replace(':', ';'), format) == label)
                && (!drop || Timecode.Parse(text.Replace(';', '.'), format) == label)
                && Timecode.Parse(text.Replace(';', ':'), format) == label
                && (label.Hours > 9 || Timecode.Parse(text.AsSpan(1), format) == label)
                && (format.FrameDigits == 2 || label.Frames > 99 || Timecode.Parse(string.Concat(text.AsSpan(0, 9), text.AsSpan(text.Length - 2)), format) == label);
        });

    private static TimecodeFormat Of(long numerator, long denominator, bool drop = false) =>
        TimecodeFormat.From(FrameRate.From(numerator, denominator), drop);
}
