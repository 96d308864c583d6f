using System.Diagnostics.CodeAnalysis;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes;

/// <summary>
/// How frames are numbered: a frame rate and whether two (or four, or eight) frame numbers are left out of
/// nine minutes in ten. Everything a label needs follows from these two, so it is worked out once, here.
/// </summary>
/// <remarks>
/// A label counts <see cref="FrameRate.Nominal"/> frames in a second whatever the true rate is; at
/// 30000/1001 a non-drop label hour therefore lasts 3,603.6 s. Drop-frame numbering leaves out 2 labels at
/// 30000/1001, 4 at 60000/1001 and 8 at 120000/1001 at the start of each minute that is not a multiple of ten
/// (SMPTE ST 12-1 and ST 12-3); at any other rate it is refused. No frame of the picture is ever dropped.
/// </remarks>
public sealed record TimecodeFormat
{
    /// <summary>Label hours in a label day; labels wrap there.</summary>
    public const int HoursPerDay = 24;

    private static readonly FrameRate[] DropFrameRates =
    [
        FrameRate.Fps30000Over1001, FrameRate.From(60000, 1001), FrameRate.From(120000, 1001),
    ];

    private TimecodeFormat(FrameRate rate, bool dropFrame)
    {
        Rate = rate;
        DropFrame = dropFrame;
        Nominal = rate.Nominal;
        DroppedPerMinute = dropFrame ? Nominal / 15 : 0;
        FramesPerTenMinutes = (600L * Nominal) - (9 * DroppedPerMinute);
        FramesPerDay = 144 * FramesPerTenMinutes;
        LabelsPerDay = 86_400L * Nominal;
        FrameDigits = Math.Max(2, DigitsOf(Nominal - 1));
        LabelLength = "00:00:00:".Length + FrameDigits;
        Divisions = new(this);
    }

    /// <summary>24000/1001, every label counted.</summary>
    public static TimecodeFormat Fps24000Over1001 { get; } = new(FrameRate.Fps24000Over1001, false);

    /// <summary>24.</summary>
    public static TimecodeFormat Fps24 { get; } = new(FrameRate.Fps24, false);

    /// <summary>25.</summary>
    public static TimecodeFormat Fps25 { get; } = new(FrameRate.Fps25, false);

    /// <summary>30000/1001, every label counted (non-drop).</summary>
    public static TimecodeFormat Fps30000Over1001 { get; } = new(FrameRate.Fps30000Over1001, false);

    /// <summary>30000/1001, drop-frame.</summary>
    public static TimecodeFormat Fps30000Over1001Drop { get; } = new(FrameRate.Fps30000Over1001, true);

    /// <summary>30.</summary>
    public static TimecodeFormat Fps30 { get; } = new(FrameRate.Fps30, false);

    /// <summary>The true rate, in frames per second.</summary>
    public FrameRate Rate { get; }

    /// <summary>Whether labels are left out so that they keep up with the clock.</summary>
    public bool DropFrame { get; }

    /// <summary>Labels counted in one label second: 30 for 30000/1001.</summary>
    public int Nominal { get; }

    /// <summary>Labels left out at the start of nine minutes in ten: 0, 2, 4 or 8.</summary>
    public int DroppedPerMinute { get; }

    /// <summary>Frames in a minute that is a multiple of ten, where nothing is left out.</summary>
    public long FramesPerWholeMinute => 60L * Nominal;

    /// <summary>Frames in any other minute.</summary>
    public long FramesPerMinute => FramesPerWholeMinute - DroppedPerMinute;

    /// <summary>Frames in ten label minutes.</summary>
    public long FramesPerTenMinutes { get; }

    /// <summary>Frames in a label hour.</summary>
    public long FramesPerHour => 6 * FramesPerTenMinutes;

    /// <summary>Frames in 24 label hours: frame indexes run from 0 to one less.</summary>
    public long FramesPerDay { get; }

    /// <summary>Label numbers in 24 hours, the left-out ones included.</summary>
    public long LabelsPerDay { get; }

    /// <summary>Digits of the frame field: two, or three where a second counts more than 100 frames.</summary>
    public int FrameDigits { get; }

    /// <summary>Characters in a label: 11 for <c>00:00:00:00</c>.</summary>
    public int LabelLength { get; }

    /// <summary>How long a label hour really lasts, in seconds, exact: 3,603.6 s at 30000/1001 non-drop.</summary>
    public Rational SecondsPerLabelHour => Rate.SecondsFor(FramesPerHour);

    /// <summary>By how much labels fall behind the clock in a label hour, in seconds; negative where they run ahead.</summary>
    public Rational DriftPerLabelHour => SecondsPerLabelHour - 3600;

    /// <summary>Precomputed reciprocals for the fast path.</summary>
    internal Labels.LabelDivisions Divisions { get; }

    /// <summary>Whether drop-frame numbering exists at a rate: only at 30000/1001, 60000/1001 and 120000/1001.</summary>
    /// <param name="rate">Any rate.</param>
    public static bool AllowsDropFrame(FrameRate rate) => Array.IndexOf(DropFrameRates, rate) >= 0;

    /// <summary>Creates a format.</summary>
    /// <param name="rate">Any frame rate.</param>
    /// <param name="dropFrame">Whether labels are left out; only at 30000/1001, 60000/1001 and 120000/1001.</param>
    /// <exception cref="ArgumentOutOfRangeException">Drop-frame numbering does not exist at the rate.</exception>
    public static TimecodeFormat From(FrameRate rate, bool dropFrame = false) =>
        TryCreate(rate, dropFrame, out TimecodeFormat? format, out string problem)
            ? format
            : throw new ArgumentOutOfRangeException(nameof(dropFrame), dropFrame, problem);

    /// <summary>Creates a format, or says why it does not exist.</summary>
    /// <param name="rate">Any frame rate.</param>
    /// <param name="dropFrame">Whether labels are left out.</param>
    /// <param name="format">The format, or null.</param>
    /// <param name="problem">The reason, or an empty text.</param>
    public static bool TryCreate(
        FrameRate rate,
        bool dropFrame,
        [NotNullWhen(true)] out TimecodeFormat? format,
        out string problem)
    {
        if (dropFrame && !AllowsDropFrame(rate))
        {
            format = null;
            problem = $"drop-frame numbering does not exist at {rate} frames per second; it exists at 30000/1001, 60000/1001 and 120000/1001 only";
            return false;
        }

        format = new(rate, dropFrame);
        problem = string.Empty;
        return true;
    }

    /// <summary>The frame index of a label, or why it is none. Nothing is wrapped.</summary>
    /// <param name="fields">Hours, minutes, seconds and frames.</param>
    /// <param name="dropped">What to do with a label that drop-frame numbering leaves out.</param>
    /// <param name="frameIndex">0 up to <see cref="FramesPerDay"/> − 1, or 0.</param>
    /// <returns>The reason why the label does not exist, or <see cref="LabelFault.None"/>.</returns>
    public LabelFault TryGetFrameIndex(LabelFields fields, DroppedLabels dropped, out long frameIndex)
    {
        frameIndex = 0;
        if (fields.Hours is < 0 or >= HoursPerDay)
        {
            return LabelFault.Hours;
        }

        if (fields.Minutes is < 0 or > 59)
        {
            return LabelFault.Minutes;
        }

        if (fields.Seconds is < 0 or > 59)
        {
            return LabelFault.Seconds;
        }

        if (fields.Frames < 0 || fields.Frames >= Nominal)
        {
            return LabelFault.Frames;
        }

        int frames = fields.Frames;
        if (frames < DroppedPerMinute && fields.Seconds == 0 && fields.Minutes % 10 != 0)
        {
            if (dropped == DroppedLabels.Refuse)
            {
                return LabelFault.Dropped;
            }

            frames = DroppedPerMinute;
        }

        long minutes = (60L * fields.Hours) + fields.Minutes;
        frameIndex = (((minutes * 60) + fields.Seconds) * Nominal) + frames - (DroppedPerMinute * (minutes - (minutes / 10)));
        return LabelFault.None;
    }

    /// <summary>The label of a frame index.</summary>
    /// <param name="frameIndex">Any whole number; it wraps at <see cref="FramesPerDay"/>.</param>
    public LabelFields FieldsOf(long frameIndex)
    {
        long index = Wrap(frameIndex);
        long tens = index / FramesPerTenMinutes;
        long rest = index - (tens * FramesPerTenMinutes);
        long minute = rest < FramesPerWholeMinute ? 0 : 1 + ((rest - FramesPerWholeMinute) / FramesPerMinute);
        long label = index + (DroppedPerMinute * ((9 * tens) + minute));
        (long seconds, long frames) = Math.DivRem(label, Nominal);
        return new((int)(seconds / 3600), (int)(seconds / 60 % 60), (int)(seconds % 60), (int)frames);
    }

    /// <summary>The frame index inside the label day.</summary>
    /// <param name="frames">Any whole number of frames.</param>
    public long Wrap(long frames)
    {
        if (frames >= 0 && frames < FramesPerDay)
        {
            return frames;
        }

        long rest = frames % FramesPerDay;
        return rest < 0 ? rest + FramesPerDay : rest;
    }

    /// <summary>Two formats are equal when rate and numbering are.</summary>
    /// <param name="other">Another format.</param>
    public bool Equals(TimecodeFormat? other) =>
        ReferenceEquals(this, other) || (other is not null && Rate == other.Rate && DropFrame == other.DropFrame);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Rate, DropFrame);

    /// <summary><c>30000/1001 drop-frame</c> or <c>25</c>.</summary>
    public override string ToString() => DropFrame ? $"{Rate} drop-frame" : Rate.ToString();

    private static int DigitsOf(int value)
    {
        int digits = 1;
        for (; value >= 10; value /= 10)
        {
            digits++;
        }

        return digits;
    }
}
