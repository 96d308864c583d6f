using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>One row of an inventory: a clip, or one chunk of a take that was cut into several files.</summary>
public sealed record Clip
{
    /// <summary>The largest number of frames in a take.</summary>
    public const long MaximumFrames = 1_000_000_000;

    /// <summary>The highest whole number of frames that a label of an inventory may count in a second.</summary>
    public const int MaximumNominalRate = 1_000;

    /// <summary>The longest name in UTF-8 bytes.</summary>
    public const int MaximumNameBytes = 255;

    /// <summary>The clip name, with or without a file extension. 1 to 255 bytes of UTF-8.</summary>
    public required string Name { get; init; }

    /// <summary>The reel; empty where there is none, and then the name stands for it.</summary>
    public string Reel { get; init; } = string.Empty;

    /// <summary>Rate and numbering of the labels.</summary>
    public required TimecodeFormat Format { get; init; }

    /// <summary>Frame index of the first label, 0 up to one less than the frames of a label day; null where no labels were recorded.</summary>
    public long? Start { get; init; }

    /// <summary>Recorded frames. 1 to 1,000,000,000.</summary>
    public required long Frames { get; init; }

    /// <summary>What the file is.</summary>
    public ClipKind Kind { get; init; }

    /// <summary>Identifier of the camera; empty where it is not said.</summary>
    public string Camera { get; init; } = string.Empty;

    /// <summary>Day of the recording; null where it is not said.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>The take that a chunk belongs to; empty where the name says it, or where there are no chunks.</summary>
    public string Take { get; init; } = string.Empty;

    /// <summary>Which chunk of its take this is, from 1; 0 where the file is a whole take.</summary>
    public int Chunk { get; init; }

    /// <summary>How many chunks the take has; 0 where it is not said.</summary>
    public int Chunks { get; init; }

    /// <summary>Size of the file in bytes; null where it is not said.</summary>
    public long? Bytes { get; init; }

    /// <summary>The tape, card or drive where the file lies; empty where it is not said.</summary>
    public string Medium { get; init; } = string.Empty;

    /// <summary>Whether a range can be taken out of the file.</summary>
    public Trimmability Trimmable { get; init; }

    /// <summary>Frames per second of the sensor; null where it is not said.</summary>
    public FrameRate? SensorRate { get; init; }

    /// <summary>Size of the picture; null where it is not said.</summary>
    public Raster? Raster { get; init; }
}
