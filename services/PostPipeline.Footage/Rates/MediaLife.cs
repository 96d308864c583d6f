using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>How long a medium lasts. Record time is not clock time: a duty of 2.5 h in 10 stretches it fourfold.</summary>
public readonly record struct MediaLife
{
    private MediaLife(DataSize usable, Rational seconds, FrameRate sensorRate, FrameRate projectRate) =>
        (Usable, RecordSeconds, SensorRate, ProjectRate) = (usable, seconds, sensorRate, projectRate);

    /// <summary>Bytes that may be filled, after the reserve.</summary>
    public DataSize Usable { get; }

    /// <summary>Seconds of recording, exact.</summary>
    public Rational RecordSeconds { get; }

    /// <summary>Whole frames that fit.</summary>
    public long Frames => (RecordSeconds * SensorRate.FramesPerSecond).Floor();

    /// <summary>Seconds on screen, exact.</summary>
    public Rational ScreenSeconds => RecordSeconds * SensorRate.FramesPerSecond / ProjectRate.FramesPerSecond;

    /// <summary>Minutes of recording, for print.</summary>
    public double RecordMinutes => RecordSeconds.ToDouble() / 60;

    private FrameRate SensorRate { get; }

    private FrameRate ProjectRate { get; }

    /// <summary>Works out the life of a medium.</summary>
    /// <param name="capacity">Its bytes.</param>
    /// <param name="average">What fills it, pictures and sound.</param>
    /// <param name="sensorRate">Frames recorded a second.</param>
    /// <param name="projectRate">Frames played back a second.</param>
    /// <param name="reserve">The part kept free, 0 to below 1.</param>
    /// <param name="extra">A part added to the rate, for what is not listed, such as 1/50; 0 for none.</param>
    /// <exception cref="ArgumentOutOfRangeException">A part lies outside its range, or the rate is zero.</exception>
    public static MediaLife Of(DataSize capacity, DataRate average, FrameRate sensorRate, FrameRate projectRate, Rational reserve = default, Rational extra = default)
    {
        if (reserve.Sign < 0 || reserve >= 1)
        {
            throw new ArgumentOutOfRangeException(nameof(reserve), reserve, $"The reserve is {reserve}; allowed is 0 to below 1.");
        }

        if (extra.Sign < 0 || extra > 10)
        {
            throw new ArgumentOutOfRangeException(nameof(extra), extra, $"The extra part is {extra}; allowed is 0 to 10.");
        }

        if (average.BitsPerSecond.Sign == 0)
        {
            throw new ArgumentOutOfRangeException(nameof(average), average, "The rate is 0; a medium that is not written has no end.");
        }

        Rational usable = capacity.Bytes * (1 - reserve);
        return new(DataSize.FromBytes(usable.Floor()), usable / (average.BytesPerSecond * (1 + extra)), sensorRate, projectRate);
    }

    /// <summary>Clock seconds that a medium lasts at a duty.</summary>
    /// <param name="duty">Recorded part of the time, above 0 to 1.</param>
    public Rational ClockSeconds(Rational duty) =>
        duty.Sign > 0 && duty <= 1
            ? RecordSeconds / duty
            : throw new ArgumentOutOfRangeException(nameof(duty), duty, $"The duty is {duty}; allowed is above 0 to 1.");
}
