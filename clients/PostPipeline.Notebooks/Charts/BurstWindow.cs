namespace PostPipeline.Notebooks.Charts;

/// <summary>One burst: a window around the press of the trigger, a buffer that fills in it and empties after it.</summary>
/// <param name="WindowSeconds">How long the window is, s.</param>
/// <param name="TriggerPosition">0: the window starts at the press; 1: it ends there.</param>
/// <param name="InRateMegabytesPerSecond">What the sensor makes, MB/s.</param>
/// <param name="WriteRateMegabytesPerSecond">What the media takes, MB/s.</param>
/// <param name="BufferGigabytes">The size of the buffer, GB.</param>
/// <param name="DrainsWhileRecording">Whether it empties from the press on, or only after the window.</param>
public sealed record BurstWindow(double WindowSeconds, double TriggerPosition, double InRateMegabytesPerSecond, double WriteRateMegabytesPerSecond, double BufferGigabytes, bool DrainsWhileRecording)
{
    /// <summary>When the window starts, s from the press; zero or negative.</summary>
    public double StartSeconds => -TriggerPosition * WindowSeconds;

    /// <summary>When the window ends, s from the press.</summary>
    public double EndSeconds => (1 - TriggerPosition) * WindowSeconds;

    /// <summary>What the buffer holds at the end of the window, GB.</summary>
    public double FilledGigabytes => (InRateMegabytesPerSecond * WindowSeconds / 1000) - (DrainsWhileRecording ? WriteRateMegabytesPerSecond * EndSeconds / 1000 : 0);

    /// <summary>How long the buffer empties after the window, s.</summary>
    public double DrainSeconds => FilledGigabytes * 1000 / WriteRateMegabytesPerSecond;
}
