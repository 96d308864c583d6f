using System.Buffers;
using System.Text.Json;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>Writes OpenTimelineIO documents (JSON, schemas Timeline.1, Track.1, Clip.1 and their parts).</summary>
public static class TimelineWriter
{
    /// <summary>A cut as a timeline: one track for each track of the cut, gaps where its record side has them.</summary>
    /// <param name="cut">The cut; its events in order of the record side on each track.</param>
    public static byte[] FromCut(Cut cut)
    {
        FrameRate rate = cut.RecordFormat.Rate;
        long origin = cut.Events.IsEmpty ? 0 : cut.Events.Min(e => e.RecordIn);
        return Document(cut.Title, rate, origin, writer =>
        {
            foreach (IGrouping<string, CutEvent> track in cut.Events.GroupBy(e => e.Tracks))
            {
                BeginTrack(writer, track.Key, track.First());
                long at = origin;
                foreach (CutEvent item in track)
                {
                    if (item.RecordFrames == 0)
                    {
                        continue;
                    }

                    if (item.RecordIn > at)
                    {
                        Gap(writer, item.RecordIn - at, rate);
                    }

                    if (item.Transition.MixesTwoSources)
                    {
                        Transition(writer, item.Transition, rate);
                    }

                    Item(writer, item, rate);
                    at = item.RecordIn + item.RecordFrames;
                }

                EndTrack(writer);
            }
        });
    }

    /// <summary>A pull list as a timeline: the ranges end to end on one track, each with its file's whole range.</summary>
    /// <param name="list">The pull list.</param>
    /// <param name="title">The timeline's name.</param>
    /// <param name="rate">The rate of the timeline.</param>
    public static byte[] FromPullList(PullList list, string title, FrameRate rate) => Document(title, rate, 0, writer =>
    {
        BeginTrack(writer, "V", null);
        foreach (PullRange range in list.Ranges)
        {
            Clip clip = list.Inventory[range.Row];
            FrameRate own = clip.Format.Rate;
            long start = clip.Start ?? 0;
            BeginObject(writer, "Clip.1", clip.Name);
            Range(writer, "source_range", start + range.Frames.First, range.Frames.Frames, own);
            Reference(writer, clip.Name, clip.Medium, start, clip.Frames, own);
            writer.WriteEndObject();
        }

        EndTrack(writer);
    });

    private static byte[] Document(string name, FrameRate rate, long origin, Action<Utf8JsonWriter> tracks)
    {
        ArrayBufferWriter<byte> bytes = new();
        using (Utf8JsonWriter writer = new(bytes, new() { Indented = true }))
        {
            BeginObject(writer, "Timeline.1", name);
            writer.WritePropertyName("global_start_time");
            Time(writer, origin, rate);
            writer.WritePropertyName("tracks");
            BeginObject(writer, "Stack.1", "tracks");
            writer.WriteStartArray("children");
            tracks(writer);
            writer.WriteEndArray();
            writer.WriteEndObject();
            writer.WriteEndObject();
        }

        return bytes.WrittenSpan.ToArray();
    }

    private static void BeginTrack(Utf8JsonWriter writer, string name, CutEvent? first)
    {
        BeginObject(writer, "Track.1", name);
        bool sound = first is not null && !name.Contains('V', StringComparison.OrdinalIgnoreCase) && !name.Equals("B", StringComparison.OrdinalIgnoreCase);
        writer.WriteString("kind", sound ? "Audio" : "Video");
        writer.WriteStartArray("children");
    }

    private static void EndTrack(Utf8JsonWriter writer)
    {
        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    private static void Gap(Utf8JsonWriter writer, long frames, FrameRate rate)
    {
        BeginObject(writer, "Gap.1", string.Empty);
        Range(writer, "source_range", 0, frames, rate);
        writer.WriteEndObject();
    }

    private static void Transition(Utf8JsonWriter writer, EditTransition transition, FrameRate rate)
    {
        BeginObject(writer, "Transition.1", transition.Letters);
        writer.WriteString("transition_type", transition.Kind == TransitionKind.Dissolve ? "SMPTE_Dissolve" : "Custom_Transition");
        writer.WritePropertyName("in_offset");
        Time(writer, 0, rate);
        writer.WritePropertyName("out_offset");
        Time(writer, transition.DurationFrames, rate);
        writer.WriteEndObject();
    }

    private static void Item(Utf8JsonWriter writer, CutEvent item, FrameRate rate)
    {
        if (item.Source == SourceKind.Black)
        {
            Gap(writer, item.RecordFrames, rate);
            return;
        }

        // The range of a clip is as long as its place on the timeline; a warp says what is inside.
        FrameRate own = item.SourceFormat.Rate;
        string name = item.ClipName.Length > 0 ? item.ClipName : item.Reel;
        BeginObject(writer, "Clip.1", name);
        long frames = (item.RecordFrames * own.FramesPerSecond / rate.FramesPerSecond).RoundHalfAwayFromZero();
        Range(writer, "source_range", item.SourceIn, Math.Max(1, frames), own);
        writer.WriteStartArray("effects");
        Rational scalar = item.Speed * rate.FramesPerSecond / own.FramesPerSecond;
        if (item.Speed.Sign == 0)
        {
            BeginObject(writer, "FreezeFrame.1", string.Empty);
            writer.WriteNumber("time_scalar", 0);
            writer.WriteEndObject();
        }
        else if (scalar != Rational.One)
        {
            BeginObject(writer, "LinearTimeWarp.1", string.Empty);
            writer.WriteNumber("time_scalar", scalar.ToDouble());
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        Reference(writer, name, item.Reel, null, 0, own);
        writer.WriteEndObject();
    }

    private static void Reference(Utf8JsonWriter writer, string name, string reel, long? start, long frames, FrameRate rate)
    {
        writer.WritePropertyName("media_reference");
        BeginObject(writer, start is null ? "MissingReference.1" : "ExternalReference.1", name);
        if (start is { } first)
        {
            Range(writer, "available_range", first, frames, rate);
            writer.WriteString("target_url", name);
        }

        writer.WriteStartObject("metadata");
        if (reel.Length > 0)
        {
            writer.WriteStartObject("conform");
            writer.WriteString(start is null ? "reel" : "medium", reel);
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
        writer.WriteEndObject();
    }

    private static void BeginObject(Utf8JsonWriter writer, string schema, string name)
    {
        writer.WriteStartObject();
        writer.WriteString("OTIO_SCHEMA", schema);
        writer.WriteString("name", name);
    }

    private static void Range(Utf8JsonWriter writer, string property, long start, long frames, FrameRate rate)
    {
        writer.WriteStartObject(property);
        writer.WriteString("OTIO_SCHEMA", "TimeRange.1");
        writer.WritePropertyName("start_time");
        Time(writer, start, rate);
        writer.WritePropertyName("duration");
        Time(writer, frames, rate);
        writer.WriteEndObject();
    }

    private static void Time(Utf8JsonWriter writer, long frames, FrameRate rate)
    {
        writer.WriteStartObject();
        writer.WriteString("OTIO_SCHEMA", "RationalTime.1");
        if (rate.Denominator == 1)
        {
            writer.WriteNumber("rate", rate.Numerator);
        }
        else
        {
            writer.WriteNumber("rate", rate.FramesPerSecond.ToDouble());
        }

        writer.WriteNumber("value", frames);
        writer.WriteEndObject();
    }
}
