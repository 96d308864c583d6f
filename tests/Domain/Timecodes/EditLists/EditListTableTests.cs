using System.Globalization;
using PostPipeline.Quantities;
using PostPipeline.Testing;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.EditLists;

/// <summary>
/// Sample lists of OpenTimelineIO's adapter tests (Apache-2.0, found by POSTPIPELINE_CHECKS); the expected counts
/// were made by an independent regular expression (tests/Tables/edit_lists_expected.csv).
/// </summary>
public class EditListTableTests
{
    public static TheoryData<string> Files()
    {
        TheoryData<string> files = [];
        foreach (CsvTable.Row row in CsvTable.Read(Outside.Table("edit_lists_expected.csv")).Rows)
        {
            files.Add(row["file"]);
        }

        return files;
    }

    [SkippableTheory]
    [MemberData(nameof(Files))]
    public void Read_SampleList_AgreesWithEveryColumn(string file)
    {
        CsvTable.Row expected = CsvTable.Read(Outside.Table("edit_lists_expected.csv")).Rows.Single(r => r["file"] == file);
        EditListReading reading = EditListReader.Read(File.ReadAllBytes(Outside.Data($"edit_lists/{file}")));
        Assert.Empty(reading.Problems);
        EditList list = reading.List;
        Assert.Equal(expected["title"], list.Title);
        string mode = list.Events[0].Mode switch
        {
            FrameCodeMode.NonDrop => "NON-DROP FRAME",
            FrameCodeMode.Drop => "DROP FRAME",
            _ => string.Empty,
        };
        Assert.Equal(expected["fcm"], mode);
        Assert.Equal(Number("event_lines"), list.Events.Length);
        Assert.Equal(Number("distinct_event_numbers"), list.Events.Select(e => e.Number).Distinct().Count());
        Assert.Equal(Number("cuts"), list.Events.Count(e => e.Transition.Kind == TransitionKind.Cut));
        Assert.Equal(Number("dissolves"), list.Events.Count(e => e.Transition.Kind == TransitionKind.Dissolve));
        Assert.Equal(Number("wipes"), list.Events.Count(e => e.Transition.Kind == TransitionKind.Wipe));
        Assert.Equal(Number("m2_lines"), list.Events.Sum(e => e.Motions.Length));
        Assert.Equal(Number("from_clip_name_lines"), list.Events.Sum(e => e.Comments.Count(c => c.Kind == CommentKind.FromClipName)));
        Assert.Equal(Number("distinct_reels"), list.Events.Select(e => e.Reel).Distinct().Count());
        Assert.Equal(Number("longest_reel_chars"), list.Events.Max(e => e.Reel.Length));

        FrameRate rate = FrameRate.From(Number("fps_assumed"), 1);
        CutReading counted = CutBuilder.FromEditList(list, rate);
        Assert.Empty(counted.Problems);
        Cut cut = counted.Cut;
        Assert.Equal(expected["first_record_in"], list.Events[0].RecordIn.ToString());
        Assert.Equal(expected["last_record_out"], list.Events[^1].RecordOut.ToString());
        Assert.Equal(Number("sum_record_frames"), cut.TotalRecordFrames);
        Assert.Equal(Number("events_src_ne_rec_duration"), cut.Events.Count(e => e.SourceFrames != e.RecordFrames));
        Assert.Equal(Number("record_gaps_frames"), cut.RecordGaps().Sum(g => Math.Max(0, g.Frames)));
        if (expected["note"].Length > 0)
        {
            // "frame numbers up to 24 force fps>=25"
            Assert.Equal("frame numbers up to 24 force fps>=25", expected["note"]);
            EditListNumbers numbers = EditListNumbers.Of(list);
            Assert.Equal(24, numbers.HighestFrameNumber);
            Assert.Equal(25, numbers.SmallestNominalRate);
            Assert.False(numbers.Allows(FrameRate.Fps24));
            Assert.Contains(CutBuilder.FromEditList(list, FrameRate.Fps24).Problems, p => p.Message.Contains("at least 25 frames per second", StringComparison.Ordinal));
        }

        int Number(string column) => int.Parse(expected[column], CultureInfo.InvariantCulture);
    }

    [SkippableTheory]
    [MemberData(nameof(Files))]
    public void Write_SampleList_ReadsBackWithTheSameMeaning(string file)
    {
        EditList list = EditListReader.Read(File.ReadAllBytes(Outside.Data($"edit_lists/{file}"))).List;
        byte[] written = EditListWriter.ToUtf8(list);
        Assert.True(list.MeansSameAs(EditListReader.Read(written).List));
        Assert.Equal(written, EditListWriter.ToUtf8(EditListReader.Read(written).List));
    }
}
