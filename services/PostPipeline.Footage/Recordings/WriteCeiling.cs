using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>
/// The rate that media can be trusted to take: the rating on the label × a derating (0.85, an invented default
/// that a measurement replaces).
/// </summary>
public readonly record struct WriteCeiling
{
    /// <summary>The invented default derating, 17/20.</summary>
    public static readonly Rational DefaultDerating = new(17, 20);

    private WriteCeiling(DataRate rated, Rational derating) => (Rated, Derating) = (rated, derating);

    /// <summary>The rating on the label.</summary>
    public DataRate Rated { get; }

    /// <summary>The part of it that is trusted.</summary>
    public Rational Derating { get; }

    /// <summary>The rate that is trusted.</summary>
    public DataRate Rate => DataRate.FromBitsPerSecond(Rated.BitsPerSecond * Derating);

    /// <summary>Creates a ceiling.</summary>
    /// <param name="rated">The rating, above zero.</param>
    /// <param name="derating">Above 0 to 1; null for 17/20.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside its range.</exception>
    public static WriteCeiling From(DataRate rated, Rational? derating = null)
    {
        Rational part = derating ?? DefaultDerating;
        if (part.Sign <= 0 || part > 1)
        {
            throw new ArgumentOutOfRangeException(nameof(derating), part, $"The derating is {part}; allowed is above 0 to 1.");
        }

        return rated.BitsPerSecond.Sign > 0
            ? new(rated, part)
            : throw new ArgumentOutOfRangeException(nameof(rated), rated, "The rating is 0; allowed is above 0.");
    }
}
