using System.Text;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.EditLists;

/// <summary>Statements and forms of SMPTE ST 258 (layout from memory) and variations in use (common practice, no source).</summary>
public class EditListReaderTests
{
    [Fact]
    public void Read_EveryTransition_KeepsKindCodeAndDuration()
    {
        EditList list = Read("""
            TITLE: EVERY KIND
            FCM: NON-DROP FRAME
            001  A001     V     C        01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00
            002  A001     V     C        01:00:01:00 01:00:01:00 00:00:01:00 00:00:01:00
            002  A002     V     D    024 02:00:00:00 02:00:02:00 00:00:01:00 00:00:03:00
            003  A003     V     W012 010 03:00:00:00 03:00:01:00 00:00:03:00 00:00:04:00
            004  A004     V     K B      04:00:00:00 04:00:01:00 00:00:04:00 00:00:05:00
            004  A005     V     K    005 05:00:00:00 05:00:01:00 00:00:04:00 00:00:05:00
            005  A006     V     K O  007 06:00:00:00 06:00:01:00 00:00:05:00 00:00:06:00
            006  A007     V     K B (F) 012 06:00:00:00 06:00:01:00 00:00:06:00 00:00:07:00
            007  BL       V     C        00:00:00:00 00:00:01:00 00:00:07:00 00:00:08:00
            008  AX       A2/V  C        00:00:00:00 00:00:01:00 00:00:08:00 00:00:09:00
            """);
        Assert.Equal(
            [
                new(TransitionKind.Cut, 0, 0, false), new(TransitionKind.Cut, 0, 0, false), new(TransitionKind.Dissolve, 0, 24, false),
                new(TransitionKind.Wipe, 12, 10, false), new(TransitionKind.KeyBackground, 0, 0, false), new(TransitionKind.KeyIn, 0, 5, false),
                new(TransitionKind.KeyOut, 0, 7, false), new(TransitionKind.KeyBackground, 0, 12, true),
                new(TransitionKind.Cut, 0, 0, false), new(TransitionKind.Cut, 0, 0, false),
            ],
            list.Events.Select(e => e.Transition));
        Assert.True(list.Events[8].IsBlack);
        Assert.True(list.Events[9].IsAuxiliary);
        Assert.True(list.Events[9].HasVideo);
    }

    [Fact]
    public void Read_ModeChangesDownTheList_EachEventHasItsOwn()
    {
        EditList list = Read("""
            TITLE: MODES
            001  A        V     C        01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00
            FCM: DROP FRAME
            002  A        V     C        01:00:00:00 01:00:01:00 00:00:01:00 00:00:02:00
            * A COMMENT
            FCM: NON-DROP FRAME
            * STILL BELOW EVENT 2
            003  A        V     C        01:00:00:00 01:00:01:00 00:00:02:00 00:00:03:00
            """);
        Assert.Equal([FrameCodeMode.Unstated, FrameCodeMode.Drop, FrameCodeMode.NonDrop], list.Events.Select(e => e.Mode));
        Assert.Equal(["A COMMENT", "STILL BELOW EVENT 2"], list.Events[1].Comments.Select(c => c.Text));
    }

    [Theory]
    [InlineData("M2   A001           048.0       01:00:00:00", 48, 1)]
    [InlineData("M2   A001           012.5       01:00:00:00", 25, 2)]
    [InlineData("M2   A001          -024.0       01:00:00:00", -24, 1)]
    [InlineData("M2   A001           000.0       01:00:00:00", 0, 1)]
    [InlineData("M2 A001 47.6 01:00:00:00", 238, 5)]
    [InlineData("m2 A001 +024. 01:00:00:00", 24, 1)]
    public void Read_MotionLine_HasExactSpeed(string motionLine, int numerator, int denominator)
    {
        EditList list = Read($"001  A001 V C 01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00\n{motionLine}\n");
        MotionEffect motion = Assert.Single(list.Events[0].Motions);
        Assert.Equal(new Rational(numerator, denominator), motion.SourceFramesPerSecond);
        Assert.Equal(numerator < 0, motion.IsReverse);
        Assert.Equal(numerator == 0, motion.IsFreeze);
        Assert.Equal(new EditLabel(1, 0, 0, 0), motion.Entry);
    }

    [Fact]
    public void Read_MotionBelowTwoLines_GoesToTheLineWithItsReel()
    {
        EditList list = Read("""
            001  A001     V     C        01:00:00:00 01:00:00:00 00:00:01:00 00:00:01:00
            001  B001     V     D    024 02:00:00:00 02:00:02:00 00:00:01:00 00:00:03:00
            M2   A001           048.0       01:00:00:00
            M2   B001           012.0       02:00:00:00
            """);
        Assert.Equal(48, Assert.Single(list.Events[0].Motions).SourceFramesPerSecond);
        Assert.Equal(12, Assert.Single(list.Events[1].Motions).SourceFramesPerSecond);
    }

    [Theory]
    [InlineData("001 LONGREELNAME_07 V C 01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00", "LONGREELNAME_07")]
    [InlineData("  001\tA001\tV\tC\t01:00:00:00\t01:00:01:00\t00:00:00:00\t00:00:01:00  ", "A001")]
    [InlineData("000001  CARD 7   V     C        01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00", "CARD 7")]
    [InlineData("001  A001 C 01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00", "A001")]
    [InlineData("001  A001 V C 01.00.00.00 01.00.01.00 00.00.00.00 00.00.01.00", "A001")]
    [InlineData("001  A001 v c 1:00:00:00 1:00:01:00 0:00:00:00 0:00:01:00", "A001")]
    public void Read_VariationInUse_IsTakenAndListedInStrictMode(string line, string reel)
    {
        EditListReading tolerant = EditListReader.Read(Encoding.UTF8.GetBytes($"TITLE: T\nFCM: NON-DROP FRAME\n{line}\n"));
        Assert.Empty(tolerant.Problems);
        Assert.Equal(reel, Assert.Single(tolerant.List.Events).Reel);
        EditListReading strict = EditListReader.Read(Encoding.UTF8.GetBytes($"TITLE: T\nFCM: NON-DROP FRAME\n{line}\n"), new() { Strict = true });
        Assert.NotEmpty(strict.Problems);
        Assert.All(strict.Problems, p => Assert.True(p is { Line: 3, Column: >= 1, IsError: false }));
    }

    [Fact]
    public void Read_StrictOnTheStandardsLayout_ListsNothing()
    {
        EditListReading reading = EditListReader.Read(
            "TITLE: T\r\nFCM: NON-DROP FRAME\r\n002  A001     V     D    024 01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00\r\n* REMARK\r\n"u8,
            new() { Strict = true });
        Assert.Empty(reading.Problems);
    }

    [Theory]
    [InlineData("001  A001 V C 01:00:00:00 01:00:01:00 00:00:00:00", 50)]
    [InlineData("001  A001 V Q 01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00", 13)]
    [InlineData("001  A001 V C 01:00:00:00 01:60:01:00 00:00:00:00 00:00:01:00", 27)]
    [InlineData("001  C 01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00", 6)]
    [InlineData("00a  A001 V C 01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00", 1)]
    [InlineData("FCM: MAYBE", 6)]
    public void Read_LineThatCannotBeUnderstood_IsAnErrorWithItsPlaceAndIsKept(string line, int column)
    {
        EditListReading reading = EditListReader.Read(Encoding.UTF8.GetBytes($"TITLE: T\n{line}"));
        EditListProblem problem = Assert.Single(reading.Problems);
        Assert.Equal((2, column, true), (problem.Line, problem.Column, problem.IsError));
        Assert.Equal(line, Assert.Single(reading.List.Preamble).Text);
    }

    [Fact]
    public void Read_MoreEventsThanAllowed_StopsWithAnError()
    {
        string line = "001  A001 V C 01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00\n";
        EditListReading reading = EditListReader.Read(Encoding.UTF8.GetBytes(string.Concat(Enumerable.Repeat(line, 5))), new() { MaximumEvents = 3 });
        Assert.Equal(3, reading.List.Events.Length);
        Assert.Contains("more than 3 event lines", Assert.Single(reading.Problems).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_BytesThatAreNotUtf8_KeepEveryByteAsLatin1()
    {
        byte[] text = [.. "TITLE: caf"u8, 0xE9, (byte)'\n'];
        Assert.Equal("café", EditListReader.Read(text).List.Title);
    }

    [Fact]
    public void FromEditList_DropFrame_ByModeOrBySemicolon()
    {
        EditList list = Read("""
            FCM: DROP FRAME
            001  A V C 00:00:59:28 00:01:00:02 01:00:00:00 01:00:00:02
            FCM: NON-DROP FRAME
            002  A V C 00:00:59;28 00:01:00;02 01:00:00:02 01:00:00:04
            003  A V C 00:00:59:28 00:01:00:02 01:00:00:04 01:00:00:08
            """);
        CutReading reading = CutBuilder.FromEditList(list, FrameRate.Fps30000Over1001);
        Assert.Empty(reading.Problems);
        // SMPTE ST 12-1: 00:00:59;29 is followed by 00:01:00;02, so the first two sources are 2 frames long.
        Assert.Equal([2L, 2L, 4L], reading.Cut.Events.Select(e => e.SourceFrames));
        Assert.Equal([true, true, false], reading.Cut.Events.Select(e => e.SourceFormat.DropFrame));
        Assert.Contains(CutBuilder.FromEditList(list, FrameRate.Fps25).Problems, p => p.Message.Contains("drop-frame", StringComparison.Ordinal));
    }

    [Fact]
    public void FromEditList_DroppedLabel_IsRefused()
    {
        EditList list = Read("FCM: DROP FRAME\n001  A V C 00:01:00;00 00:01:01;00 01:00:00;00 01:00:01;00\n");
        CutReading reading = CutBuilder.FromEditList(list, FrameRate.Fps30000Over1001);
        Assert.Contains("dropped label", Assert.Single(reading.Problems).Message, StringComparison.Ordinal);
        Assert.Empty(reading.Cut.Events);
    }

    [Fact]
    public void FromEditList_Dissolve_GivesTheOutgoingSideItsTail()
    {
        EditList list = Read("""
            001  A001     V     C        01:00:00:00 01:00:01:00 00:00:00:00 00:00:01:00
            * FROM CLIP NAME: FIRST
            002  A001     V     C        01:00:01:00 01:00:01:00 00:00:01:00 00:00:01:00
            002  A002     V     D    024 02:00:00:00 02:00:02:00 00:00:01:00 00:00:03:00
            * FROM CLIP NAME: FIRST
            * TO CLIP NAME: SECOND
            """);
        Cut cut = CutBuilder.FromEditList(list, FrameRate.Fps24).Cut;
        Assert.Equal([0L, 24L, 0L], cut.Events.Select(e => e.TailRecordFrames));
        Assert.Equal(["FIRST", "FIRST", "SECOND"], cut.Events.Select(e => e.ClipName));
        Assert.Equal(new SourceSpan(cut.Events[1].SourceIn, 24), cut.Events[1].Need());
        Assert.Empty(cut.RecordGaps());
    }

    private static EditList Read(string text)
    {
        EditListReading reading = EditListReader.Read(Encoding.UTF8.GetBytes(text));
        Assert.Empty(reading.Problems);
        return reading.List;
    }
}
