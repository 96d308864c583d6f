namespace PostPipeline.Quantities;

/// <summary>
/// Frames per second as an exact positive fraction. 24 and 24000/1001 are different rates, 3.6 s an hour
/// apart; a decimal such as 23.976 names neither and is refused.
/// </summary>
/// <remarks><c>default</c> is 1 frame per second, so that no instance is without meaning.</remarks>
public readonly record struct FrameRate : IComparable<FrameRate>
{
    /// <summary>The highest rate accepted, in frames per second.</summary>
    public const long MaximumFramesPerSecond = 1_000_000;

    // Less one, so that the default is 1/1; in lowest terms, so that equality is numeric.
    private readonly long numeratorLessOne;
    private readonly long denominatorLessOne;

    private FrameRate(Rational framesPerSecond) =>
        (numeratorLessOne, denominatorLessOne) = (framesPerSecond.Numerator - 1, framesPerSecond.Denominator - 1);

    /// <summary>24000/1001.</summary>
    public static FrameRate Fps24000Over1001 { get; } = new(new(24000, 1001));

    /// <summary>24.</summary>
    public static FrameRate Fps24 { get; } = new(24);

    /// <summary>25.</summary>
    public static FrameRate Fps25 { get; } = new(25);

    /// <summary>30000/1001.</summary>
    public static FrameRate Fps30000Over1001 { get; } = new(new(30000, 1001));

    /// <summary>30.</summary>
    public static FrameRate Fps30 { get; } = new(30);

    /// <summary>Frames per second, exact.</summary>
    public Rational FramesPerSecond => Rational.FromReduced(Numerator, Denominator);

    /// <summary>The numerator in lowest terms.</summary>
    public long Numerator => numeratorLessOne + 1;

    /// <summary>The denominator in lowest terms.</summary>
    public long Denominator => denominatorLessOne + 1;

    /// <summary>Duration of one frame in seconds, exact.</summary>
    public Rational SecondsPerFrame => Rational.FromReduced(Denominator, Numerator);

    /// <summary>The whole number of frames a label counts in a second: 30 for 30000/1001 (SMPTE ST 12-1).</summary>
    public int Nominal => checked((int)FramesPerSecond.Ceiling());

    /// <summary>Compares by frames per second.</summary>
    public static bool operator <(FrameRate a, FrameRate b) => a.CompareTo(b) < 0;

    /// <summary>Compares by frames per second.</summary>
    public static bool operator >(FrameRate a, FrameRate b) => a.CompareTo(b) > 0;

    /// <summary>Compares by frames per second.</summary>
    public static bool operator <=(FrameRate a, FrameRate b) => a.CompareTo(b) <= 0;

    /// <summary>Compares by frames per second.</summary>
    public static bool operator >=(FrameRate a, FrameRate b) => a.CompareTo(b) >= 0;

    /// <summary>Creates a rate.</summary>
    /// <param name="framesPerSecond">Above zero, at most <see cref="MaximumFramesPerSecond"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value lies outside that range.</exception>
    public static FrameRate From(Rational framesPerSecond) =>
        framesPerSecond.Sign > 0 && framesPerSecond <= MaximumFramesPerSecond
            ? new(framesPerSecond)
            : throw new ArgumentOutOfRangeException(
                nameof(framesPerSecond),
                framesPerSecond,
                $"The frame rate is {framesPerSecond}; allowed is above 0 and at most {MaximumFramesPerSecond} frames per second.");

    /// <summary>Creates numerator/denominator frames per second.</summary>
    /// <param name="numerator">Above zero.</param>
    /// <param name="denominator">Above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">Either is not above zero, or the rate is too high.</exception>
    public static FrameRate From(long numerator, long denominator) =>
        denominator <= 0
            ? throw new ArgumentOutOfRangeException(nameof(denominator), denominator, $"The denominator of a frame rate is {denominator}; allowed is 1 or more.")
            : From(new Rational(numerator, denominator));

    /// <summary>Reads <c>25</c> or <c>24000/1001</c>.</summary>
    /// <param name="text">A whole number or a fraction. Decimals are refused: 23.976 is a nickname, not a rate.</param>
    /// <param name="rate">The rate, or <c>default</c>.</param>
    /// <param name="problem">What is wrong and what is allowed, or an empty text.</param>
    public static bool TryParse(ReadOnlySpan<char> text, out FrameRate rate, out string problem)
    {
        rate = default;
        problem = string.Empty;
        if (text.Contains('.'))
        {
            problem = $"'{text}' is a rounded rate; write a whole number or an exact fraction such as 24000/1001 or 30000/1001";
            return false;
        }

        if (!Rational.TryParse(text, out Rational value))
        {
            problem = $"'{text}' is not a frame rate; write a whole number or a fraction such as 24000/1001";
            return false;
        }

        if (value.Sign <= 0 || value > MaximumFramesPerSecond)
        {
            problem = $"'{text}' is out of range; allowed is above 0 and at most {MaximumFramesPerSecond} frames per second";
            return false;
        }

        rate = new(value);
        return true;
    }

    /// <summary>How long <paramref name="frames"/> frames last, in seconds, exact.</summary>
    /// <param name="frames">A count of frames; may be negative.</param>
    public Rational SecondsFor(long frames) => frames * SecondsPerFrame;

    /// <inheritdoc/>
    public int CompareTo(FrameRate other) => FramesPerSecond.CompareTo(other.FramesPerSecond);

    /// <summary><c>24000/1001</c> or <c>25</c>, in frames per second.</summary>
    public override string ToString() => FramesPerSecond.ToString();
}
