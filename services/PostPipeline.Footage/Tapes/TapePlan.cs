using PostPipeline.Quantities;

namespace PostPipeline.Footage.Tapes;

/// <summary>
/// Cartridges and drive time for a volume: fill and speed that can be trusted, a verify pass, calibration of new
/// cartridges, sets that go to different places. No gain from compression is counted: pictures do not shrink.
/// </summary>
public sealed record TapePlan
{
    /// <summary>Common practice: the part of a cartridge that is filled, 23/25.</summary>
    public static readonly Rational DefaultFill = new(23, 25);

    private TapePlan()
    {
    }

    /// <summary>The volume with other material.</summary>
    public required DataSize Volume { get; init; }

    /// <summary>Cartridges of a set before rounding: 4.98 is not the same news as 4.02.</summary>
    public required Rational CartridgesExact { get; init; }

    /// <summary>Cartridges of one set, rounded up.</summary>
    public long CartridgesPerSet => CartridgesExact.Ceiling();

    /// <summary>Sets.</summary>
    public required int Sets { get; init; }

    /// <summary>Cartridges of all sets.</summary>
    public long Cartridges => checked(CartridgesPerSet * Sets);

    /// <summary>Drive hours of all sets: writing, checking, calibrating.</summary>
    public required Rational DriveHours { get; init; }

    /// <summary>Hours with so many drives side by side: each set is its own run, so drives beyond the cartridges idle.</summary>
    /// <param name="drives">1 to 1,000.</param>
    public Rational ClockHours(int drives) => DriveHours / Math.Min(Guard.InRange(drives, 1, 1000), Math.Max(1, Cartridges));

    /// <summary>Plans tapes.</summary>
    /// <param name="originals">The volume.</param>
    /// <param name="otherPart">Other material as a part of it, such as 3/20.</param>
    /// <param name="generation">The cartridges.</param>
    /// <param name="rate">What a drive writes in practice; 70 to 80 % of the native rate where nothing was measured.</param>
    /// <param name="sets">1 to 10.</param>
    /// <param name="verify">Whether each cartridge is read again.</param>
    /// <param name="fill">The part of a cartridge that is filled, above 0 to 1; null for 92 %.</param>
    /// <param name="calibrate">Whether every cartridge is new and needs its first load's calibration.</param>
    public static TapePlan Of(DataSize originals, Rational otherPart, TapeGeneration generation, DataRate rate, int sets = 2, bool verify = true, Rational? fill = null, bool calibrate = false)
    {
        Guard.InRange(sets, 1, 10);
        Rational part = fill ?? DefaultFill;
        if (part.Sign <= 0 || part > 1)
        {
            throw new ArgumentOutOfRangeException(nameof(fill), part, $"The fill is {part}; allowed is above 0 to 1.");
        }

        if (otherPart.Sign < 0 || otherPart > 10)
        {
            throw new ArgumentOutOfRangeException(nameof(otherPart), otherPart, $"The other material is {otherPart}; allowed is 0 to 10.");
        }

        if (rate.BitsPerSecond.Sign == 0)
        {
            throw new ArgumentOutOfRangeException(nameof(rate), rate, "The drive's rate is 0; allowed is above 0.");
        }

        Int128 scaled = (Int128)originals.Bytes * (1 + otherPart).Numerator;
        Int128 per = (1 + otherPart).Denominator;
        DataSize volume = DataSize.FromBytes((scaled + per - 1) / per);
        Rational exact = volume.Bytes / (generation.Capacity.Bytes * part);
        Rational passes = verify ? 2 : 1;
        Rational hours = volume.Bytes / rate.BytesPerSecond * passes * sets / 3600;
        Rational calibration = calibrate ? new Rational(exact.Ceiling() * sets * generation.CalibrationMinutes, 60) : 0;
        return new() { Volume = volume, CartridgesExact = exact, Sets = sets, DriveHours = hours + calibration };
    }
}
