using CsCheck;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Inventories;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Conforming;

/// <summary>Pull lists: worked examples (common practice, no source) and a slow, obvious version.</summary>
public class PullListTests
{
    private static readonly TimecodeFormat F24 = TimecodeFormat.Fps24;

    // Worked example: 98 min = 141,120 frames in 1,450 events with 16-frame handles are 187,520 frames, and 0.830 TB of
    // the reference clip at 4,423,680 B a frame; one track, nothing merged, trimmable.
    [Fact]
    public void Of_AFeature_GivesTheWorkedExample()
    {
        InventoryBuilder builder = new();
        List<CutEvent> events = [];
        long record = 0;
        for (int i = 0; i < 1450; i++)
        {
            long frames = (141_120 / 1450) + (i < 141_120 % 1450 ? 1 : 0);
            builder.Add(new Clip
            {
                Name = $"A{i:D4}",
                Format = F24,
                Start = 1000,
                Frames = 1000,
                Bytes = 1000 * 4_423_680L,
                Trimmable = Trimmability.Yes,
                Medium = $"TAPE{i % 4}",
            });
            events.Add(new() { ClipName = $"A{i:D4}", SourceFormat = F24, SourceIn = 1400, SourceFrames = frames, RecordIn = record, RecordFrames = frames });
            record += frames;
        }

        Assert.Equal(141_120, record);
        PullList list = Pull(builder.Build(), events, 16);
        Assert.Equal(187_520, list.Planned.Frames);
        Assert.Equal(187_520 * 4_423_680L, list.Planned.Bytes);
        Assert.Equal(0.830, Math.Round(list.Planned.Bytes / 1e12, 3));
        Assert.Equal(["TAPE0", "TAPE1", "TAPE2", "TAPE3"], list.Media.AsEnumerable());
        Assert.Equal(1450 * 1000, list.IfWhole.Frames);
        Assert.True(list.Ranges.Zip(list.Ranges.Skip(1)).All(p => string.CompareOrdinal(Medium(p.First), Medium(p.Second)) <= 0));

        string Medium(PullRange range) => list.Inventory[range.Row].Medium;
    }

    [Fact]
    public void Of_ClipThatCannotBeTrimmed_IsPulledWholeAndUnknownCountsAsNo()
    {
        Assert.Equal(1000, Frames(Trimmability.No, new()));
        Assert.Equal(1000, Frames(Trimmability.Unknown, new()));
        Assert.Equal(100, Frames(Trimmability.Unknown, new() { WholeWhereUnknown = false }));
        Assert.Equal(100, Frames(Trimmability.Yes, new()));

        static long Frames(Trimmability trimmable, PullOptions options)
        {
            InventoryBuilder builder = new();
            builder.Add(new Clip { Name = "A", Format = F24, Start = 0, Frames = 1000, Bytes = 10_000, Trimmable = trimmable });
            return Pull(builder.Build(), [new() { ClipName = "A", SourceFormat = F24, SourceIn = 500, SourceFrames = 100, RecordFrames = 100 }], 0, options).Planned.Frames;
        }
    }

    [Fact]
    public void Of_TakeOfSeveralFiles_PullsOnlyTheFilesThatHoldWantedFrames()
    {
        InventoryBuilder builder = new();
        for (int i = 1; i <= 4; i++)
        {
            builder.Add(new Clip { Name = $"T_{i:D3}", Format = F24, Start = (i - 1) * 100, Frames = 100, Bytes = 1000, Take = "T", Chunk = i, Chunks = 4, Trimmable = Trimmability.No });
        }

        PullList list = Pull(builder.Build(), [new() { ClipName = "T", SourceFormat = F24, SourceIn = 150, SourceFrames = 100, RecordFrames = 100 }], 0);
        Assert.Equal([1, 2], list.Ranges.Select(r => r.Row));
        Assert.Equal(2000, list.Planned.Bytes);
        Assert.Equal(100, list.IfTrimmed.Frames);
    }

    [Fact]
    public void Write_CsvAndEditList_CarryTheRanges()
    {
        InventoryBuilder builder = new();
        builder.Add(new Clip { Name = "=A", Reel = "R1", Format = F24, Start = 0, Frames = 1000, Bytes = 10_000, Trimmable = Trimmability.Yes, Medium = "T,1" });
        PullList list = Pull(builder.Build(), [new() { ClipName = "=A", SourceFormat = F24, SourceIn = 500, SourceFrames = 100, RecordFrames = 100 }], 10);
        Assert.Equal(
            "medium,name,reel,start,end,first_frame,frames,rate,whole_file,bytes,events\r\n\"T,1\",\"=A\",R1,00:00:20:10,00:00:25:10,490,120,24,no,1200,1\r\n",
            PullListWriter.ToCsv(list));
        (TimecodeFormat format, EditList edits) = Assert.Single(PullListWriter.ToEditLists(list, "PULL"));
        Cut back = CutBuilder.FromEditList(EditListReader.Read(EditListWriter.ToUtf8(edits)).List, format.Rate).Cut;
        Assert.Equal((490L, 120L, "=A"), (back.Events[0].SourceIn, back.Events[0].SourceFrames, back.Events[0].ClipName));
    }

    // Property: merging against marking every wanted frame and then filling every hole shorter than the gap.
    [Fact]
    public void Merge_AnyRanges_AgreesWithMarkingEveryFrame() =>
        Gen.Select(Gen.Select(Gen.Int[0, 2], Gen.Int[0, 120], Gen.Int[1, 30]).Array[0, 12], Gen.Int[0, 40]).Sample((ranges, gap) =>
        {
            InventoryBuilder builder = new();
            for (int i = 0; i < 3; i++)
            {
                builder.Add(new Clip { Name = $"C{i}", Format = F24, Start = 0, Frames = 150, Bytes = 1500, Trimmable = Trimmability.Yes });
            }

            List<CutEvent> events =
            [
                .. ranges.Select(r => new CutEvent { ClipName = $"C{r.Item1}", SourceFormat = F24, SourceIn = r.Item2, SourceFrames = r.Item3, RecordFrames = r.Item3 }),
            ];
            PullList list = Pull(builder.Build(), events, 0, new() { MergeGapFrames = gap });
            for (int clip = 0; clip < 3; clip++)
            {
                bool[] wanted = new bool[150];
                foreach ((int _, int from, int length) in ranges.Where(r => r.Item1 == clip))
                {
                    Array.Fill(wanted, true, from, length);
                }

                bool[] filled = FillHoles(wanted, gap);
                bool[] pulled = new bool[150];
                foreach (PullRange range in list.Ranges.Where(r => r.Row == clip))
                {
                    if (Array.IndexOf(pulled, true, (int)range.Frames.First, (int)range.Frames.Frames) >= 0)
                    {
                        return false;
                    }

                    Array.Fill(pulled, true, (int)range.Frames.First, (int)range.Frames.Frames);
                }

                if (!filled.SequenceEqual(pulled))
                {
                    return false;
                }
            }

            return list.Planned.Bytes == list.Planned.Frames * 10;
        }, iter: 2000);

    private static bool[] FillHoles(bool[] wanted, int gap)
    {
        bool[] filled = (bool[])wanted.Clone();
        int last = -1;
        for (int i = 0; i < wanted.Length; i++)
        {
            if (wanted[i])
            {
                if (last >= 0 && i - last - 1 < gap)
                {
                    Array.Fill(filled, true, last, i - last);
                }

                last = i;
            }
        }

        return filled;
    }

    private static PullList Pull(Inventory inventory, List<CutEvent> events, int handles, PullOptions? options = null) =>
        PullList.Of(new Conformer(inventory, new() { HandleFrames = handles }).Match(new Cut("T", F24, [.. events])), options);
}
