namespace PostPipeline.Timecodes.Conforming;

/// <summary>Frames of a clip or take that one event wants.</summary>
internal readonly record struct WantedRange(int Row, SourceSpan Frames);
