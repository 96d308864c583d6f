using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>A storage tier: what can be used of it, what stays free, and what redundancy costs.</summary>
public sealed record Tier
{
    /// <summary>Common practice: a fifth stays free.</summary>
    public static readonly Rational DefaultFree = new(1, 5);

    /// <summary>Creates a tier.</summary>
    /// <param name="name">Its name: online, nearline, archive.</param>
    /// <param name="usableBytes">Bytes that can be used, redundancy taken off; null where nothing is bought yet.</param>
    /// <param name="free">The part kept free, 0 to below 1; null for 1/5.</param>
    /// <param name="redundancy">Raw bytes for each usable byte, 1 to 100: 5/4 for eight data and two parity drives.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside its range.</exception>
    public Tier(string name, long? usableBytes = null, Rational? free = null, Rational? redundancy = null)
    {
        Name = name;
        UsableBytes = usableBytes is null ? null : Guard.InRange(usableBytes.Value, 1, long.MaxValue);
        Free = free ?? DefaultFree;
        Redundancy = redundancy ?? 1;
        if (Free.Sign < 0 || Free >= 1)
        {
            throw new ArgumentOutOfRangeException(nameof(free), Free, $"The free part is {Free}; allowed is 0 to below 1.");
        }

        if (Redundancy < 1 || Redundancy > 100)
        {
            throw new ArgumentOutOfRangeException(nameof(redundancy), Redundancy, $"The redundancy is {Redundancy}; allowed is 1 to 100.");
        }
    }

    /// <summary>Its name.</summary>
    public string Name { get; }

    /// <summary>Bytes that can be used, or null.</summary>
    public long? UsableBytes { get; }

    /// <summary>The part kept free.</summary>
    public Rational Free { get; }

    /// <summary>Raw bytes for each usable byte.</summary>
    public Rational Redundancy { get; }

    /// <summary>Bytes that a plan may fill: usable less what stays free, rounded down; null where nothing is bought yet.</summary>
    public long? PlannableBytes => UsableBytes is { } usable ? Scale(usable, (1 - Free).Numerator, (1 - Free).Denominator, up: false) : null;

    /// <summary>Raw bytes to buy for so many bytes: ÷ (1 − free) × redundancy, rounded up.</summary>
    /// <param name="bytes">Bytes to hold.</param>
    public long ToBuy(long bytes)
    {
        Rational factor = Redundancy / (1 - Free);
        return Scale(bytes, factor.Numerator, factor.Denominator, up: true);
    }

    /// <summary>The whole bytes of a part of the usable ones, rounded up; null where nothing is bought yet.</summary>
    /// <param name="part">0 to 1.</param>
    public long? PartOfUsable(Rational part) => UsableBytes is { } usable ? Scale(usable, part.Numerator, part.Denominator, up: true) : null;

    private static long Scale(long bytes, long numerator, long denominator, bool up)
    {
        Int128 product = (Int128)bytes * numerator;
        return checked((long)((up ? product + denominator - 1 : product) / denominator));
    }
}
