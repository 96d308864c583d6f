using PostPipeline.Quantities;
using PostPipeline.Timecodes.Generators;
using PostPipeline.Timecodes.LinearTimecode;
using PostPipeline.Timecodes.OffSpeed;
using PostPipeline.Timecodes.Synchronization;
using Types = PostPipeline.Contracts.Types.V1;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>Domain values to messages; nothing is computed here.</summary>
internal static class LabelWriter
{
    /// <summary>A fraction.</summary>
    public static Types.Rational Write(Rational value) => new() { Numerator = value.Numerator, Denominator = value.Denominator };

    /// <summary>A frame rate.</summary>
    public static Types.FrameRate Write(FrameRate rate) => new() { Numerator = rate.Numerator, Denominator = rate.Denominator };

    /// <summary>A span of labels.</summary>
    public static Wire.LabelSpan Write(TimecodeRange range) => new()
    {
        StartLabel = range.Start.ToString(),
        FrameCount = range.FrameCount,
        EndLabel = range.EndExclusive.ToString(),
        CrossesMidnight = range.CrossesMidnight,
    };

    /// <summary>What follows from a rate and its numbering.</summary>
    public static Wire.FormatDescription Write(TimecodeFormat format)
    {
        bool sent = LtcFormat.TryCreate(format, out LtcFormat? ltc, out string ltcProblem);
        bool grouped = SuperFrameFormat.TryCreate(format, 0, out SuperFrameFormat? grouping, out _);
        return new()
        {
            NominalFramesPerSecond = format.Nominal,
            DroppedLabelsPerMinute = format.DroppedPerMinute,
            FramesPerTenMinutes = format.FramesPerTenMinutes,
            FramesPerHour = format.FramesPerHour,
            FramesPerDay = format.FramesPerDay,
            LabelWidth = format.LabelLength,
            SecondsPerLabelHour = Write(format.SecondsPerLabelHour),
            DriftSecondsPerLabelHour = Write(format.DriftPerLabelHour),
            DriftSecondsPerLabelDay = Write(TimecodeFormat.HoursPerDay * format.DriftPerLabelHour),
            AllowsDropFrame = TimecodeFormat.AllowsDropFrame(format.Rate),
            FramesPerLtcWord = sent ? ltc!.FramesPerWord : 0,
            LtcProblem = ltcProblem,
            FramesPerSuperFrame = grouped ? grouping!.FramesPerSuperFrame : 0,
        };
    }

    /// <summary>What labels say against what the clock says.</summary>
    public static Wire.Drift Write(ClockDrift drift) => new()
    {
        ClockSeconds = Write(drift.ClockSeconds),
        LabelSeconds = Write(drift.LabelSeconds),
        DriftSeconds = Write(drift.DriftSeconds),
    };

    /// <summary>A collision.</summary>
    /// <param name="collision">The collision among the takes that could be read.</param>
    /// <param name="places">Where those takes stand in the request.</param>
    public static Wire.Collision Write(LabelCollision collision, IReadOnlyList<int> places) => new()
    {
        First = places[collision.First],
        Second = places[collision.Second],
        SharedLabels = collision.SharedLabels,
        FirstSharedLabel = collision.FirstShared.ToString(),
    };

    /// <summary>The labels of a clip under one behaviour, and what later clips share with them.</summary>
    public static Wire.OffSpeedLabels Write(LabelledClip clip, IReadOnlyList<TimecodeRange> later)
    {
        Wire.OffSpeedLabels labels = new()
        {
            Labelling = Write(clip.Labelling),
            Span = clip.Labels is { } span ? Write(span) : null,
            SpanSeconds = Write(clip.LabelSpanSeconds),
            AheadOfClockSeconds = Write(clip.AheadOfClockSeconds),
            MostFramesPerLabel = clip.MostFramesPerLabel,
            SkippedLabels = clip.SkippedLabels,
            LabelsNameFrames = clip.LabelsNameFrames,
        };
        labels.OverlapLabels.AddRange(later.Select(other => clip.Labels?.OverlapLabels(other) ?? 0));
        return labels;
    }

    /// <summary>A labelling behaviour.</summary>
    public static Wire.OffSpeedLabelling Write(OffSpeedLabelling labelling) => labelling switch
    {
        OffSpeedLabelling.PerFrame => Wire.OffSpeedLabelling.PerFrame,
        OffSpeedLabelling.FollowsClock => Wire.OffSpeedLabelling.FollowsClock,
        OffSpeedLabelling.RecordRunForced => Wire.OffSpeedLabelling.RecordRunForced,
        OffSpeedLabelling.None => Wire.OffSpeedLabelling.None,
        _ => Wire.OffSpeedLabelling.Unknown,
    };

    /// <summary>A clip of a generated day.</summary>
    public static Wire.ShootingClip Write(DayClip clip) => new()
    {
        Camera = clip.Camera,
        Take = clip.Take,
        Reel = clip.Reel,
        Name = clip.Name,
        Day = clip.Day,
        StartSeconds = Write(clip.StartSeconds),
        SensorRate = Write(clip.Labelled.Rates.Sensor),
        FrameCount = clip.Labelled.FrameCount,
        Labelling = Write(clip.Labelled.Labelling),
        Labels = clip.Labelled.Labels is { } labels ? Write(labels) : null,
    };
}
