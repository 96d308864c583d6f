using PostPipeline.Quantities;

namespace PostPipeline.Footage.Links;

/// <summary>
/// A serial digital video interface: its rate follows from the samples that it sends, blanking included. SMPTE
/// ST 292-1: 2,200 samples × 1,125 lines × 30 frames × 20 bits (10 luma, 10 colour difference) = 1.485 Gb/s.
/// </summary>
/// <param name="SamplesPerLine">All samples of a line, blanking included.</param>
/// <param name="Lines">All lines of a frame.</param>
/// <param name="Rate">Frames a second.</param>
/// <param name="BitsPerSample">Bits sent for a sample of luma with its colour difference.</param>
/// <param name="Multiple">How many such streams the interface carries.</param>
public readonly record struct SerialInterface(int SamplesPerLine, int Lines, FrameRate Rate, int BitsPerSample, int Multiple)
{
    /// <summary>SMPTE ST 292-1, 1.485 Gb/s at 30 frames.</summary>
    public static SerialInterface St292 => new(2200, 1125, FrameRate.Fps30, 20, 1);

    /// <summary>SMPTE ST 424, 2.97 Gb/s: 60 frames.</summary>
    public static SerialInterface St424 => new(2200, 1125, FrameRate.From(60), 20, 1);

    /// <summary>SMPTE ST 2081, 5.94 Gb/s: four times 1.485.</summary>
    public static SerialInterface St2081 => new(2200, 1125, FrameRate.Fps30, 20, 4);

    /// <summary>SMPTE ST 2082, 11.88 Gb/s: eight times 1.485.</summary>
    public static SerialInterface St2082 => new(2200, 1125, FrameRate.Fps30, 20, 8);

    /// <summary>Bits a second on the wire, exact.</summary>
    public DataRate Wire => DataRate.FromBitsPerSecond(Rate.FramesPerSecond * ((long)SamplesPerLine * Lines * BitsPerSample * Multiple));

    /// <summary>Bits a second of the picture itself.</summary>
    /// <param name="active">The active picture.</param>
    /// <param name="rate">Frames a second.</param>
    public DataRate Active(Raster active, FrameRate rate) => DataRate.FromBitsPerSecond(rate.FramesPerSecond * (active.Pixels * BitsPerSample));

    /// <summary>Whether a picture's bits fit what the interface sends of its active samples; a necessary check.</summary>
    /// <param name="active">The active picture.</param>
    /// <param name="rate">Frames a second.</param>
    public bool Fits(Raster active, FrameRate rate) => Active(active, rate) <= Wire;
}
