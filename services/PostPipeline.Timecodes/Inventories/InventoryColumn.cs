namespace PostPipeline.Timecodes.Inventories;

/// <summary>
/// The columns of an inventory. In a file each is headed by its name in lower case with underscores, for example
/// <c>sensor_rate</c>; other headers are brought to them by an <see cref="InventoryMapping"/>.
/// </summary>
public enum InventoryColumn
{
    /// <summary>Clip name. Required.</summary>
    Name = 0,

    /// <summary>Reel; where it is empty the clip name stands for it.</summary>
    Reel = 1,

    /// <summary>First label, for example 10:00:00:00; a semicolon before the frames says drop-frame.</summary>
    Start = 2,

    /// <summary>The label after the last frame; used where <c>frames</c> is not given.</summary>
    End = 3,

    /// <summary>Recorded frames, 1 to 1,000,000,000. Required unless start and end are given.</summary>
    Frames = 4,

    /// <summary>The rate that the labels count, a whole number or an exact fraction such as 24000/1001. Required.</summary>
    Rate = 5,

    /// <summary>yes or no; where it is empty the label says it.</summary>
    Drop = 6,

    /// <summary>original, proxy or mezzanine; where it is empty: original.</summary>
    Kind = 7,

    /// <summary>Identifier of the camera.</summary>
    Camera = 8,

    /// <summary>Day of the recording, YYYY-MM-DD.</summary>
    Date = 9,

    /// <summary>The take that a chunk belongs to; where it is empty the clip name without its last number.</summary>
    Take = 10,

    /// <summary>Which chunk of its take the file is, from 1.</summary>
    Chunk = 11,

    /// <summary>How many chunks the take has.</summary>
    Chunks = 12,

    /// <summary>Size of the file in bytes.</summary>
    Bytes = 13,

    /// <summary>The tape, card or drive where the file lies.</summary>
    Medium = 14,

    /// <summary>yes, no or unknown: whether a range can be taken out of the file without encoding it again.</summary>
    Trimmable = 15,

    /// <summary>Frames per second of the sensor.</summary>
    SensorRate = 16,

    /// <summary>Width of the picture in pixels.</summary>
    Width = 17,

    /// <summary>Height of the picture in pixels.</summary>
    Height = 18,
}
