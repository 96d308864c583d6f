using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Inventories;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Conforming;

/// <summary>Two cuts whose difference is known, as one was made from the other.</summary>
public class CutDifferenceTests
{
    private static readonly TimecodeFormat F24 = TimecodeFormat.Fps24;

    private static readonly CutEvent[] Old =
    [
        Event("A", 1000, 100, 0), Event("B", 2000, 50, 100), Event("C", 3000, 80, 150), Event("D", 4000, 60, 230), Event("E", 5000, 40, 290),
    ];

    [Fact]
    public void Of_SameCut_IsUnchanged()
    {
        CutDifference difference = Compare(Old, Old);
        Assert.Equal(5, difference.Count(CutChange.Unchanged));
        Assert.Equal((0L, 0L), (difference.FramesToRender, difference.FramesFromFirstChange));
    }

    [Fact]
    public void Of_EventInserted_IsAddedAndTheRestMovesInOrder()
    {
        CutDifference difference = Compare(Old, [Old[0], Event("X", 9000, 30, 100), .. Old[1..].Select(e => e with { RecordIn = e.RecordIn + 30 })]);
        Assert.Equal((1, 4, 1, 0), (difference.Count(CutChange.Added), difference.Count(CutChange.Moved), difference.Count(CutChange.Unchanged), difference.Count(CutChange.Removed)));
        Assert.All(difference.Events, e => Assert.True(e.KeepsOrder));
        Assert.Equal(30, difference.Events[2].RecordShift);
        Assert.Equal((30L, 260L), (difference.FramesToRender, difference.FramesFromFirstChange));
    }

    [Fact]
    public void Of_EventsSwapped_OneLosesItsOrder()
    {
        CutDifference difference = Compare(Old, [Old[0], Old[2] with { RecordIn = 100 }, Old[1] with { RecordIn = 180 }, Old[3], Old[4]]);
        Assert.Equal(2, difference.Count(CutChange.Moved));
        Assert.Single(difference.Events, e => !e.KeepsOrder);
        Assert.Equal(0, difference.FramesToRender);
    }

    [Fact]
    public void Of_EventTrimmed_NeedsItsNewFramesOnly()
    {
        // Ten frames earlier in, twenty frames longer out: thirty new frames.
        CutDifference difference = Compare(Old, [Old[0], Event("B", 1990, 80, 100), .. Old[2..].Select(e => e with { RecordIn = e.RecordIn + 30 })]);
        ChangedEvent trimmed = difference.Events[1];
        Assert.Equal((CutChange.Trimmed, -10L, 20L, 30L), (trimmed.Change, trimmed.HeadFrames, trimmed.TailFrames, trimmed.FramesToRender));
    }

    [Fact]
    public void Of_EventRetimed_IsRenderedWhole()
    {
        CutEvent slow = Old[2] with { SourceFrames = 40, Speed = new(1, 2), SpeedOrigin = SpeedOrigin.Stated };
        CutDifference difference = Compare(Old, [Old[0], Old[1], slow, Old[3], Old[4]]);
        Assert.Equal((CutChange.Retimed, 80L), (difference.Events[2].Change, difference.Events[2].FramesToRender));
    }

    [Fact]
    public void Of_TransitionAdded_IsRendered()
    {
        CutDifference difference = Compare(Old, [Old[0], Old[1] with { Transition = new(TransitionKind.Dissolve, 0, 12, false) }, .. Old[2..]]);
        Assert.True(difference.Events[1].TransitionChanged);
        Assert.Equal(12, difference.FramesToRender);
    }

    [Fact]
    public void Of_RemovedAndUnrelated_AreNotPaired()
    {
        CutDifference difference = Compare(Old, [Old[0], Event("B", 7000, 50, 100), .. Old[2..]]);
        Assert.Equal((1, 1), (difference.Count(CutChange.Added), difference.Count(CutChange.Removed)));
    }

    [Fact]
    public void Pull_OfTheDifference_IsWhatIsNotOnline()
    {
        InventoryBuilder builder = new();
        foreach (string name in (string[])["A", "B", "C", "D", "E", "X"])
        {
            builder.Add(new Clip { Name = name, Format = F24, Start = 0, Frames = 10_000, Bytes = 100_000, Trimmable = name == "X" ? Trimmability.No : Trimmability.Yes });
        }

        Conformer conformer = new(builder.Build(), new() { HandleFrames = 8 });
        PullList old = PullList.Of(conformer.Match(new Cut("1", F24, [.. Old])));
        PullList now = PullList.Of(conformer.Match(new Cut("2", F24, [Old[0], Event("B", 1990, 80, 100), Event("X", 9000, 30, 180), .. Old[3..]])));
        PullDifference difference = PullDifference.Of(old, now);

        // B before: 1992…2058; now 1982…2078: 10 + 20 frames new. X whole. C, 96 frames, is no longer needed.
        Assert.Equal([(1, 1982L, 10L), (1, 2058L, 20L), (5, 0L, 10_000L)], difference.ToFetch.Ranges.Select(r => (r.Row, r.Frames.First, r.Frames.Frames)));
        Assert.Equal(96, difference.NoLongerNeeded.Frames);
        Assert.Equal((116L + 66 + 76 + 56) * 10, difference.AlreadyOnline.Bytes);
        Assert.Equal(300 + 100_000, difference.ToFetch.Planned.Bytes);
    }

    private static CutEvent Event(string name, long from, long frames, long record) =>
        new() { ClipName = name, SourceFormat = F24, SourceIn = from, SourceFrames = frames, RecordIn = record, RecordFrames = frames };

    private static CutDifference Compare(CutEvent[] old, CutEvent[] now) => CutDifference.Of(new Cut("1", F24, [.. old]), new Cut("2", F24, [.. now]));
}
