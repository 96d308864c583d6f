using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>One clip or gap of a timeline once every nesting is opened, in exact seconds.</summary>
public sealed record FlatItem
{
    /// <summary>The track: V1, V2, A1; a track inside a nested stack carries its number behind a point.</summary>
    public required string Track { get; init; }

    /// <summary>The item's name; empty where it has none.</summary>
    public string Name { get; init; } = string.Empty;

    /// <summary>The name of its media: the file's name without folder and extension, else the reference's name, else the item's.</summary>
    public string MediaName { get; init; } = string.Empty;

    /// <summary>Whether it is a gap.</summary>
    public bool IsGap { get; init; }

    /// <summary>Where it begins on the record side, in seconds from the start of the timeline.</summary>
    public required Rational RecordStartSeconds { get; init; }

    /// <summary>How long it is on the record side, in seconds.</summary>
    public required Rational RecordSeconds { get; init; }

    /// <summary>Where it begins in its media, in seconds of the media's own time.</summary>
    public Rational SourceStartSeconds { get; init; }

    /// <summary>The rate in which the media counts.</summary>
    public FrameRate SourceRate { get; init; } = FrameRate.Fps24;

    /// <summary>Media seconds per record second, all time warps around it multiplied; negative in reverse, 0 for a held frame.</summary>
    public Rational Speed { get; init; } = Rational.One;

    /// <summary>Whether any time warp is stated.</summary>
    public bool IsWarped { get; init; }

    /// <summary>In how many nested compositions it lies; 0 directly on a track.</summary>
    public int Nesting { get; init; }

    /// <summary>Where it stands in the document.</summary>
    public required string Path { get; init; }
}
