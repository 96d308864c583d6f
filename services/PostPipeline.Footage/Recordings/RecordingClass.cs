namespace PostPipeline.Footage.Recordings;

/// <summary>How a mode can be recorded on a medium.</summary>
public enum RecordingClass
{
    /// <summary>The medium can take it without end (necessary, not sufficient).</summary>
    Sustained = 0,

    /// <summary>Only in windows out of a buffer.</summary>
    Burst = 1,

    /// <summary>Over the write ceiling, and no buffer is known.</summary>
    OverCeiling = 2,
}
