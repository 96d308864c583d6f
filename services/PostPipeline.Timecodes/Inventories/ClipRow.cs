namespace PostPipeline.Timecodes.Inventories;

/// <summary>What is held of a clip beside its name, in one cache line: an event that finds its clip touches memory once.</summary>
internal struct ClipRow
{
    /// <summary>Where the name begins among the names.</summary>
    public int NameStart;

    /// <summary>Number of the reel.</summary>
    public int Reel;

    /// <summary>Frame index of the first label; −1 without labels.</summary>
    public int Start;

    /// <summary>Frames.</summary>
    public int Frames;

    /// <summary>Size in bytes; −1 where it is not said.</summary>
    public long Bytes;

    /// <summary>Number of the medium; −1 where it is not said.</summary>
    public int Medium;

    /// <summary>Day number of the recording; −1 where it is not said.</summary>
    public int Day;

    /// <summary>Number of rate and numbering, from 1.</summary>
    public ushort Format;

    /// <summary>Number of the sensor rate, from 1; 0 where it is not said.</summary>
    public ushort SensorRate;

    /// <summary>Number of the picture size, from 1; 0 where it is not said.</summary>
    public ushort Raster;

    /// <summary>Number of the camera, from 1; 0 where it is not said.</summary>
    public ushort Camera;

    /// <summary>Kind and trimmability.</summary>
    public byte Flags;
}
