using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>Sound recorded with the pictures: channels × samples a second × bytes a sample, never a part of the picture's rate.</summary>
public readonly record struct AudioTracks
{
    private AudioTracks(int channels, int bitsPerSample, int hertz) => (Channels, BitsPerSample, Hertz) = (channels, bitsPerSample, hertz);

    /// <summary>No sound.</summary>
    public static AudioTracks None => default;

    /// <summary>Channels, 0 to 64.</summary>
    public int Channels { get; }

    /// <summary>Bits a sample: 16, 24 or 32.</summary>
    public int BitsPerSample { get; }

    /// <summary>Samples a second.</summary>
    public int Hertz { get; }

    /// <summary>Bytes a second, exact.</summary>
    public long BytesPerSecond => (long)Channels * Hertz * (BitsPerSample / 8);

    /// <summary>Creates tracks.</summary>
    /// <param name="channels">0 to 64.</param>
    /// <param name="bitsPerSample">16, 24 or 32.</param>
    /// <param name="hertz">8,000 to 384,000.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside.</exception>
    public static AudioTracks From(int channels, int bitsPerSample = 24, int hertz = 48_000) =>
        bitsPerSample is 16 or 24 or 32
            ? new(Guard.InRange(channels, 0, 64), bitsPerSample, Guard.InRange(hertz, 8_000, 384_000))
            : throw new ArgumentOutOfRangeException(nameof(bitsPerSample), bitsPerSample, $"bitsPerSample is {bitsPerSample}; allowed are 16, 24 and 32.");

    /// <summary>Bytes of so many seconds, rounded up to whole samples of all channels.</summary>
    /// <param name="seconds">Zero or more.</param>
    public long BytesFor(Rational seconds) => checked((seconds * Hertz).Ceiling() * Channels * (BitsPerSample / 8));
}
