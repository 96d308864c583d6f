using System.Collections.Immutable;
using System.Text.Json;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>
/// Opens nested compositions. Seen from an item, a moment t seconds behind its start shows the moment s + k·t of what
/// is inside, s being the start of its source range and k its time scalar; nesting multiplies the scalars.
/// </summary>
internal sealed class TimelineFlattener
{
    private const int MostItems = 1_000_000;

    private readonly ImmutableArray<FlatItem>.Builder items = ImmutableArray.CreateBuilder<FlatItem>();
    private readonly ImmutableArray<FlatTransition>.Builder transitions = ImmutableArray.CreateBuilder<FlatTransition>();
    private readonly ImmutableArray<FlatMarker>.Builder markers = ImmutableArray.CreateBuilder<FlatMarker>();
    private readonly ImmutableArray<string>.Builder nested = ImmutableArray.CreateBuilder<string>();
    private readonly ImmutableArray<Rational>.Builder trackSeconds = ImmutableArray.CreateBuilder<Rational>();
    private readonly TimelineNotes notes = new();
    private readonly TimelineLengths lengths;

    public TimelineFlattener() => lengths = new(notes);

    public ImmutableArray<TimelineProblem> Problems => [.. notes.Problems];

    public FlatTimeline Flatten(JsonElement root)
    {
        Rational globalStart = Rational.Zero;
        JsonElement top = root;
        string path = string.Empty;
        if (TimelineJson.Schema(root) == "Timeline")
        {
            if (TimelineJson.TryTime(TimelineJson.Property(root, "global_start_time"), out Rational start, out FrameRate startRate))
            {
                globalStart = start;
                lengths.Rate = startRate;
            }

            top = TimelineJson.Property(root, "tracks") ?? default;
            path = "tracks";
        }

        Markers(top, path);
        if (TimelineJson.Schema(top) is "Stack" or "SerializableCollection")
        {
            int video = 0;
            int audio = 0;
            foreach ((JsonElement child, string at) in TimelineElement.Children(top, path))
            {
                bool sound = TimelineJson.Text(child, "kind") == "Audio";
                TopTrack(child, at, sound ? $"A{++audio}" : $"V{++video}");
            }
        }
        else if (top.ValueKind == JsonValueKind.Object)
        {
            TopTrack(top, path, "V1");
        }
        else
        {
            notes.Report(path, true, "the timeline has no tracks");
        }

        return new(
            TimelineJson.Text(root, "name"),
            lengths.Rate ?? FrameRate.Fps24,
            globalStart,
            trackSeconds.DrainToImmutable(),
            items.DrainToImmutable(),
            transitions.DrainToImmutable(),
            markers.DrainToImmutable(),
            nested.DrainToImmutable(),
            [.. notes.Unknown]);
    }

    private void TopTrack(JsonElement element, string path, string track)
    {
        try
        {
            Rational length = lengths.Of(element, path);
            trackSeconds.Add(length);
            Place(element, path, new(track, Rational.Zero, length, Rational.One, false, 0), Rational.Zero, length);
        }
        catch (OverflowException)
        {
            notes.Report(path, true, "times on this track are too long or too finely divided to be added exactly");
        }
    }

    /// <summary>Where an item lies: on which track, from when, for how long, how warped, how deep.</summary>
    private readonly record struct Frame(string Track, Rational RecordStart, Rational RecordSeconds, Rational Speed, bool Warped, int Nesting);

    /// <summary>Places [from, from + length) of an item's own time, before its source range and warp, into a frame.</summary>
    private void Place(JsonElement element, string path, Frame frame, Rational from, Rational length)
    {
        if (items.Count >= MostItems || frame.RecordSeconds.Sign <= 0)
        {
            return;
        }

        string schema = TimelineJson.Schema(element);
        Markers(element, path);
        (Rational scalar, bool warped) = TimeWarps.Read(element, path, notes);
        bool ranged = TimelineJson.TryRange(TimelineJson.Property(element, "source_range"), out Rational start, out _, out FrameRate sourceRate);
        if (!ranged && !(schema == "Clip" && TimelineJson.TryRange(TimelineElement.Available(element), out start, out _, out sourceRate)))
        {
            (start, sourceRate) = (Rational.Zero, lengths.Rate ?? FrameRate.Fps24);
        }

        Rational inside = start + (from * scalar);
        Frame within = frame with { Speed = frame.Speed * scalar, Warped = frame.Warped || warped };
        switch (schema)
        {
            case "Track":
                PlaceTrack(element, path, within, inside);
                break;
            case "Stack" or "Timeline" or "SerializableCollection":
                (JsonElement inner, string innerPath) = TimelineElement.Inner(element, path);
                int layer = 0;
                foreach ((JsonElement child, string at) in TimelineElement.Children(inner, innerPath))
                {
                    layer++;
                    PlaceChild(child, at, within with { Track = layer == 1 ? within.Track : $"{within.Track}.{layer}" }, inside, Rational.Zero, lengths.Of(child, at));
                }

                break;
            case "Gap":
                PlaceGap(element, path, frame);
                break;
            case "Clip":
                PlaceClip(element, path, within, inside, sourceRate);
                break;
            default:
                notes.Unknown.Add(TimelineJson.Text(element, "OTIO_SCHEMA"));
                notes.Report(path, false, $"the schema '{TimelineJson.Text(element, "OTIO_SCHEMA")}' has no meaning here; it is carried along and taken for a gap");
                PlaceGap(element, path, frame);
                break;
        }
    }

    private void PlaceGap(JsonElement element, string path, Frame frame) => items.Add(new()
    {
        Track = frame.Track,
        Name = TimelineJson.Text(element, "name"),
        IsGap = true,
        RecordStartSeconds = frame.RecordStart,
        RecordSeconds = frame.RecordSeconds,
        Nesting = frame.Nesting,
        Path = path,
    });

    private void PlaceClip(JsonElement element, string path, Frame frame, Rational inside, FrameRate sourceRate)
    {
        if (!TimelineElement.IsEnabled(element))
        {
            notes.Report(path, false, "the clip is disabled; taken for a gap");
        }

        string name = TimelineJson.Text(element, "name");
        items.Add(new()
        {
            Track = frame.Track,
            Name = name,
            MediaName = TimelineElement.MediaName(element, name),
            IsGap = !TimelineElement.IsEnabled(element),
            RecordStartSeconds = frame.RecordStart,
            RecordSeconds = frame.RecordSeconds,
            SourceStartSeconds = inside,
            SourceRate = sourceRate,
            Speed = frame.Speed,
            IsWarped = frame.Warped,
            Nesting = frame.Nesting,
            Path = path,
        });
    }

    private void PlaceTrack(JsonElement track, string path, Frame frame, Rational inside)
    {
        Rational at = Rational.Zero;
        foreach ((JsonElement child, string childPath) in TimelineElement.Children(track, path))
        {
            if (TimelineJson.Schema(child) == "Transition")
            {
                PlaceTransition(child, childPath, frame, inside, at);
                continue;
            }

            Rational length = lengths.Of(child, childPath);
            PlaceChild(child, childPath, frame, inside, at, length);
            at += length;
        }
    }

    // A child at [at, at + length) of the time inside, seen through a window that begins at 'inside' and runs with the frame's speed.
    private void PlaceChild(JsonElement child, string path, Frame frame, Rational inside, Rational at, Rational length)
    {
        // All warps so far, multiplied: moments inside pass so fast for each record second.
        Rational local = frame.Speed;
        if (local.Sign < 0)
        {
            notes.Report(path, true, "a nested composition runs in reverse, which is not opened");
            return;
        }

        Rational from;
        Rational recordFrom;
        Rational recordUntil;
        if (local.Sign == 0)
        {
            if (inside < at || inside >= at + length)
            {
                return;
            }

            (from, recordFrom, recordUntil) = (inside - at, Rational.Zero, frame.RecordSeconds);
        }
        else
        {
            recordFrom = Later(Rational.Zero, (at - inside) / local);
            recordUntil = Earlier(frame.RecordSeconds, (at + length - inside) / local);
            from = Later(Rational.Zero, inside - at);
        }

        if (recordUntil <= recordFrom)
        {
            return;
        }

        bool deeper = TimelineElement.IsComposition(child);
        if (deeper)
        {
            nested.Add(path);
        }

        Place(child, path, frame with { RecordStart = frame.RecordStart + recordFrom, RecordSeconds = recordUntil - recordFrom, Nesting = frame.Nesting + (deeper ? 1 : 0) }, from, length);
    }

    private void PlaceTransition(JsonElement transition, string path, Frame frame, Rational inside, Rational at)
    {
        Markers(transition, path);
        if (!TimelineJson.TryTime(TimelineJson.Property(transition, "in_offset"), out Rational before, out _)
            || !TimelineJson.TryTime(TimelineJson.Property(transition, "out_offset"), out Rational behind, out _)
            || before.Sign < 0 || behind.Sign < 0)
        {
            notes.Report(path, true, "the transition has no in_offset and out_offset of 0 or more");
            return;
        }

        if (frame.Speed.Sign <= 0)
        {
            notes.Report(path, false, "the transition lies in a held or reversed composition and is left out");
            return;
        }

        Rational cut = (at - inside) / frame.Speed;
        if (cut.Sign >= 0 && cut <= frame.RecordSeconds)
        {
            transitions.Add(new(frame.Track, TimelineJson.Text(transition, "transition_type"), frame.RecordStart + cut, before / frame.Speed, behind / frame.Speed));
        }
    }

    private void Markers(JsonElement element, string path)
    {
        if (TimelineJson.Property(element, "markers") is { ValueKind: JsonValueKind.Array } list)
        {
            foreach (JsonElement marker in list.EnumerateArray())
            {
                TimelineJson.TryRange(TimelineJson.Property(marker, "marked_range"), out Rational start, out Rational duration, out _);
                markers.Add(new(path, TimelineJson.Text(marker, "name"), TimelineJson.Text(marker, "color"), start, duration));
            }
        }
    }

    private static Rational Later(Rational a, Rational b) => a > b ? a : b;

    private static Rational Earlier(Rational a, Rational b) => a < b ? a : b;
}
