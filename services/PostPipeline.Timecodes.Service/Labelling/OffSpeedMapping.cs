using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.OffSpeed;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>Reads one off-speed clip and says what it becomes.</summary>
internal static class OffSpeedMapping
{
    private const int MostLaterClips = 50;

    /// <summary>What a clip becomes, or null where violations were recorded.</summary>
    public static Wire.OffSpeedClip? Map(Wire.OffSpeedQuery query, Violations violations)
    {
        LabelReader reader = new(violations);
        TimecodeFormat? format = reader.Format("base", query.Base);
        FrameRate? sensor = reader.Rate("sensor_rate", query.SensorRate);
        FrameRate? playback = reader.Rate("playback_rate", query.PlaybackRate);
        OffSpeedLabelling labelling = reader.Labelling("labelling", query.Labelling);
        Timecode? start = reader.Label("start_label", query.StartLabel, format);
        bool mayRun = labelling is OffSpeedLabelling.Unknown or OffSpeedLabelling.RecordRunForced && sensor != format?.Rate;
        Timecode? counter = mayRun ? reader.Label("record_run_label", query.RecordRunLabel, format) : start;
        violations.Count("later_clips", query.LaterClips.Count, 0, MostLaterClips);
        TimecodeRange?[] later = [.. query.LaterClips.Select((clip, i) => reader.Span(FieldPath.Of("later_clips")[i], clip, format))];
        ClipRates? rates = violations.None ? new(sensor!.Value, format!, playback!.Value) : null;
        long? frames = Length(query, rates, violations, reader);
        if (rates is null || !violations.None)
        {
            return null;
        }

        IReadOnlyList<LabelledClip> clips = LabelledClip.Possible(rates, labelling, start!.Value, counter!.Value, frames!.Value);
        TimecodeRange[] laterSpans = [.. later.Select(span => span!.Value)];
        return new()
        {
            OffSpeed = rates.IsOffSpeed,
            SlowFactor = LabelWriter.Write(rates.SlowFactor),
            FrameCount = frames.Value,
            RecordedSeconds = LabelWriter.Write(clips[0].RecordedSeconds),
            ScreenSeconds = LabelWriter.Write(clips[0].ScreenSeconds),
            Labels = { clips.Select(clip => LabelWriter.Write(clip, laterSpans)) },
        };
    }

    private static long? Length(Wire.OffSpeedQuery query, ClipRates? rates, Violations violations, LabelReader reader)
    {
        switch (query.LengthCase)
        {
            case Wire.OffSpeedQuery.LengthOneofCase.FrameCount:
                return violations.InRange("frame_count", query.FrameCount, 0, TimecodeRange.MaximumFrames) ? query.FrameCount : null;
            case Wire.OffSpeedQuery.LengthOneofCase.RecordedSeconds:
                Rational? seconds = reader.Fraction("recorded_seconds", query.RecordedSeconds);
                return seconds is null || rates is null ? null : violations.Check<long?>("recorded_seconds", () => rates.FramesIn(seconds.Value));
            default:
                violations.Add("length", "is not set; allowed is frame_count or recorded_seconds");
                return null;
        }
    }
}
