using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Testing;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Timelines;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Timelines;

/// <summary>
/// OpenTimelineIO documents: the project's own sample timelines (Apache-2.0, found by POSTPIPELINE_CHECKS) with lengths
/// added up by hand, and documents of our own.
/// </summary>
public class TimelineTests
{
    private static readonly int Count = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 1_000_000 : 10_000;

    private const string Own = """
        {
          "OTIO_SCHEMA": "Timeline.1", "name": "Own", "global_start_time": {"OTIO_SCHEMA": "RationalTime.1", "rate": 24, "value": 86400},
          "tracks": {"OTIO_SCHEMA": "Stack.1", "children": [
            {"OTIO_SCHEMA": "Track.1", "kind": "Video", "name": "V", "children": [
              {"OTIO_SCHEMA": "Clip.1", "name": "A", "markers": [{"OTIO_SCHEMA": "Marker.2", "name": "look", "color": "RED", "marked_range": {"OTIO_SCHEMA": "TimeRange.1", "start_time": {"rate": 24, "value": 5}, "duration": {"rate": 24, "value": 1}}}],
               "source_range": {"start_time": {"rate": 24, "value": 100}, "duration": {"rate": 24, "value": 48}},
               "effects": [{"OTIO_SCHEMA": "LinearTimeWarp.1", "time_scalar": 2.0}],
               "media_reference": {"OTIO_SCHEMA": "ExternalReference.1", "target_url": "file:///card/A001_C002.mov"}},
              {"OTIO_SCHEMA": "Transition.1", "transition_type": "SMPTE_Dissolve", "in_offset": {"rate": 24, "value": 6}, "out_offset": {"rate": 24, "value": 4}},
              {"OTIO_SCHEMA": "Clip.1", "name": "B", "source_range": {"start_time": {"rate": 24, "value": 1000}, "duration": {"rate": 24, "value": 24}}},
              {"OTIO_SCHEMA": "Hologram.7", "depth": [1, 2, {"x": null}], "name": "odd", "source_range": {"start_time": {"rate": 24, "value": 0}, "duration": {"rate": 24, "value": 12}}}
            ]}
          ]}
        }
        """;

    // Added up by hand from the clips' source ranges: 8+3+8; 720+83+722+432+720+605 and 482+480+2320 and 1198+640+1444;
    // 238+31+33+29+63+4+238; 3+6+4+6; 3+6+4+6. A transition adds nothing; a clip without range has its media's.
    [SkippableTheory]
    [InlineData("clip_example.otio", new long[] { 19 }, 1, 1, 0)]
    [InlineData("multitrack.otio", new long[] { 3282, 3282, 3282 }, 5, 0, 0)]
    [InlineData("nested_example.otio", new long[] { 636 }, 7, 0, 3)]
    [InlineData("simple_cut.otio", new long[] { 19 }, 4, 0, 0)]
    [InlineData("transition.otio", new long[] { 19 }, 4, 1, 0)]
    public void Flatten_SampleTimeline_HasTheLengthsAddedUpByHand(string file, long[] frames, int clips, int transitions, int nested)
    {
        FlatTimeline flat = Flatten(File.ReadAllBytes(Outside.Data($"otio/{file}")));
        Assert.Equal(FrameRate.Fps24, flat.Rate);
        Assert.Equal(frames, Enumerable.Range(0, flat.TrackSeconds.Length).Select(flat.TrackFrames));
        Assert.Equal(clips, flat.Items.Count(i => !i.IsGap));
        Assert.Equal(transitions, flat.Transitions.Length);
        Assert.Equal(nested, flat.Nested.Length);
        foreach (IGrouping<string, FlatItem> track in flat.Items.GroupBy(i => i.Track))
        {
            Assert.Equal(frames[0], track.Sum(i => (i.RecordSeconds * 24).Ceiling()));
        }
    }

    // By hand: 238 frames, then the stack's 31 of frames 373 on; later 29 frames at 0.8545… of frames 429 on; then frame 471 held for 4.
    [SkippableFact]
    public void Flatten_NestedExample_OpensStacksWithTheirWarps()
    {
        Cut cut = TimelineCut.From(Flatten(File.ReadAllBytes(Outside.Data("otio/nested_example.otio"))));
        Assert.Equal(
            [(0L, 238L, 135L), (238, 31, 373), (269, 33, 101), (302, 29, 429), (331, 63, 179), (394, 4, 471), (398, 238, 135)],
            cut.Events.Select(e => (e.RecordIn, e.RecordFrames, e.SourceIn)));
        Assert.Equal(0.8545, Math.Round(cut.Events[3].Speed.ToDouble(), 4));
        Assert.Equal(25, cut.Events[3].SourceFrames);
        Assert.Equal(0, cut.Events[5].Speed.Sign);
        Assert.Equal(1, cut.Events[5].Need().Frames);
    }

    [SkippableTheory]
    [InlineData("clip_example.otio")]
    [InlineData("multitrack.otio")]
    [InlineData("nested_example.otio")]
    public void ToUtf8_SampleTimeline_LosesNothing(string file)
    {
        byte[] bytes = File.ReadAllBytes(Outside.Data($"otio/{file}"));
        Assert.True(JsonElement.DeepEquals(JsonDocument.Parse(bytes).RootElement, JsonDocument.Parse(Read(bytes).ToUtf8()).RootElement));
    }

    [Fact]
    public void Flatten_OwnTimeline_KeepsMarkersWarpsAndUnknownSchemas()
    {
        byte[] bytes = Encoding.UTF8.GetBytes(Own);
        FlatTimeline flat = Flatten(bytes);
        Assert.Equal(["Hologram.7"], flat.UnknownSchemas.AsEnumerable());
        FlatMarker marker = Assert.Single(flat.Markers);
        Assert.Equal(("look", "RED", new Rational(5, 24)), (marker.Name, marker.Color, marker.StartSeconds));
        Assert.Contains("Hologram.7", Encoding.UTF8.GetString(Read(bytes).ToUtf8()), StringComparison.Ordinal);
        Assert.Equal(84, flat.TrackFrames(0));

        // The dissolve of 6 + 4 frames: A ends 6 earlier and gives 10 more as tail, B begins 6 earlier.
        Cut cut = TimelineCut.From(flat);
        Assert.Equal(["A001_C002", "B"], cut.Events.Select(e => e.ClipName));
        Assert.Equal((86_400L, 42L, 10L, new Rational(2, 1)), (cut.Events[0].RecordIn, cut.Events[0].RecordFrames, cut.Events[0].TailRecordFrames, cut.Events[0].Speed));
        Assert.Equal((86_442L, 30L, 994L, 10), (cut.Events[1].RecordIn, cut.Events[1].RecordFrames, cut.Events[1].SourceIn, cut.Events[1].Transition.DurationFrames));
        Assert.Equal(new SourceSpan(100, 104), cut.Events[0].Need());
    }

    [Fact]
    public void FromCut_EditList_ReadsBackAsTheSameCut()
    {
        byte[] list = """
            TITLE: ROUND
            FCM: NON-DROP FRAME
            001  A001     V     C        01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00
            * FROM CLIP NAME: A001_C001
            002  A001     V     D    012 01:00:10:00 01:00:12:00 01:00:02:00 01:00:04:00
            * TO CLIP NAME: A001_C002
            003  A002     V     C        02:00:00:00 02:00:04:00 01:00:05:00 01:00:07:00
            M2   A002           048.0       02:00:00:00
            * FROM CLIP NAME: A002_C001
            004  A002     V     C        02:00:00:00 02:00:00:01 01:00:07:00 01:00:08:00
            M2   A002           000.0       02:00:00:00
            * FROM CLIP NAME: A002_C002
            """u8.ToArray();
        Cut cut = CutBuilder.FromEditList(EditListReader.Read(list).List, FrameRate.Fps24).Cut;
        Cut back = TimelineCut.From(Flatten(TimelineWriter.FromCut(cut)));
        Assert.Equal(
            cut.Events.Select(e => (e.ClipName, e.RecordIn, e.RecordFrames, e.SourceIn, e.SourceFrames, e.Speed, e.TailRecordFrames, e.Transition.DurationFrames)),
            back.Events.Select(e => (e.ClipName, e.RecordIn, e.RecordFrames, e.SourceIn, e.SourceFrames, e.Speed, e.TailRecordFrames, e.Transition.DurationFrames)));
    }

    [Theory]
    [InlineData("", "line 1, column 1")]
    [InlineData("{\n\"OTIO_SCHEMA\": }", "line 2")]
    [InlineData("{\"OTIO_SCHEMA\": \"Poem.1\"}", "Poem.1")]
    [InlineData("[1, 2]", "OTIO_SCHEMA")]
    public void TryRead_NoTimeline_SaysWhy(string text, string expected)
    {
        Assert.False(TimelineDocument.TryRead(Encoding.UTF8.GetBytes(text), out _, out TimelineProblem problem));
        Assert.Contains(expected, problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void TryRead_RandomBytes_GivesAResultOrAPlace() => Gen.Byte.Array[0, 200].Sample(AnswersSensibly, iter: Count);

    [Fact]
    public void TryRead_MutatedTimeline_GivesAResultOrAPlace()
    {
        List<byte[]> seeds = [Encoding.UTF8.GetBytes(Own)];
        string? folder = Environment.GetEnvironmentVariable(Outside.Variable);
        if (folder is not null && Directory.Exists(Path.Combine(folder, "otio")))
        {
            seeds.AddRange(Directory.GetFiles(Path.Combine(folder, "otio"), "*.otio").Select(File.ReadAllBytes));
        }

        Mutations.Of(seeds).Sample(AnswersSensibly, iter: Count);
    }

    private static bool AnswersSensibly(byte[] bytes)
    {
        if (!TimelineDocument.TryRead(bytes, out TimelineDocument? document, out TimelineProblem problem))
        {
            return problem.Message.Length > 0;
        }

        using (document)
        {
            FlatTimeline flat = document!.Flatten(out ImmutableArray<TimelineProblem> problems);
            _ = TimelineCut.From(flat);
            return problems.All(p => p.Message.Length > 0);
        }
    }

    private static TimelineDocument Read(byte[] bytes)
    {
        Assert.True(TimelineDocument.TryRead(bytes, out TimelineDocument? document, out TimelineProblem problem), problem.Message);
        return document!;
    }

    private static FlatTimeline Flatten(byte[] bytes)
    {
        FlatTimeline flat = Read(bytes).Flatten(out ImmutableArray<TimelineProblem> problems);
        Assert.DoesNotContain(problems, p => p.IsError);
        return flat;
    }
}
