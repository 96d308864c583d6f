using PostPipeline.Contracts.Types.V1;
using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using FrameRate = PostPipeline.Quantities.FrameRate;
using Raster = PostPipeline.Quantities.Raster;
using RasterMessage = PostPipeline.Contracts.Types.V1.Raster;
using RateMessage = PostPipeline.Contracts.Types.V1.FrameRate;
using Rational = PostPipeline.Quantities.Rational;
using RationalMessage = PostPipeline.Contracts.Types.V1.Rational;

namespace PostPipeline.Footage.Service.Shared;

/// <summary>
/// Everything that is wrong with one item of a batch. The item is answered with an error and the others with their
/// values; one object serves a whole batch, so good items cost nothing.
/// </summary>
internal sealed class ItemProblems
{
    /// <summary>The longest label, in characters.</summary>
    public const int MaximumLabel = 200;

    private readonly List<(string Field, string Problem)> found = [];

    public bool None => found.Count == 0;

    public void Clear() => found.Clear();

    public void Add(string field, string problem) => found.Add((field, problem));

    /// <summary>A refusal of the domain, without the name of its parameter.</summary>
    public void AddRefusal(ArgumentException refusal)
    {
        int end = refusal.Message.IndexOf(" (Parameter '", StringComparison.Ordinal);
        Add(string.Empty, end < 0 ? refusal.Message : refusal.Message[..end]);
    }

    /// <summary>A number that 64 bits do not hold.</summary>
    public void AddOverflow() => Add(string.Empty, "a result goes beyond what 64 bits hold (9.2 EB for bytes)");

    public bool InRange(string field, long value, long low, long high)
    {
        if (value >= low && value <= high)
        {
            return true;
        }

        Add(field, $"is {value}; allowed is {low} to {high}");
        return false;
    }

    public bool InRange(string field, double value, double low, double high)
    {
        if (value >= low && value <= high)
        {
            return true;
        }

        Add(field, $"is {value}; allowed is a finite number from {low} to {high}");
        return false;
    }

    public FrameRate Rate(string field, RateMessage? rate)
    {
        if (rate is null)
        {
            Add(field, "is not set");
        }
        else if (rate.Denominator < 1)
        {
            Add(field + ".denominator", $"is {rate.Denominator}; allowed is 1 or more");
        }
        else if (rate.Numerator < 1 || rate.Numerator / rate.Denominator > FrameRate.MaximumFramesPerSecond - 1)
        {
            Add(field + ".numerator", $"is {rate.Numerator}, which makes {rate.Numerator}/{rate.Denominator}; allowed is above 0 to {FrameRate.MaximumFramesPerSecond} frames per second");
        }
        else
        {
            return FrameRate.From(rate.Numerator, rate.Denominator);
        }

        return default;
    }

    public Raster Raster(string field, RasterMessage? raster)
    {
        if (raster is null)
        {
            Add(field, "is not set");
            return default;
        }

        return InRange(field + ".width", raster.Width, 1, Quantities.Raster.MaximumSide) & InRange(field + ".height", raster.Height, 1, Quantities.Raster.MaximumSide)
            ? Quantities.Raster.From(raster.Width, raster.Height)
            : default;
    }

    /// <summary>A fraction in a range; <paramref name="ifAbsent"/> where it is not set, or a problem where that is null.</summary>
    public Rational Fraction(string field, RationalMessage? value, Rational low, Rational high, Rational? ifAbsent, bool openLow = false)
    {
        if (value is null)
        {
            if (ifAbsent is null)
            {
                Add(field, "is not set");
            }

            return ifAbsent ?? low;
        }

        if (value.Denominator < 1)
        {
            Add(field + ".denominator", $"is {value.Denominator}; allowed is 1 or more");
            return low;
        }

        Rational exact = new(value.Numerator, value.Denominator);
        if (exact < low || exact > high || (openLow && exact == low))
        {
            Add(field, $"is {exact}; allowed is {(openLow ? "above " : string.Empty)}{low} to {high}");
        }

        return exact;
    }

    public void Label(string label)
    {
        if (label.Length > MaximumLabel)
        {
            Add("label", $"has {label.Length} characters; allowed are {MaximumLabel}");
        }
    }

    /// <summary>Seconds given as a double, as an exact fraction of whole microseconds.</summary>
    public Rational Seconds(string field, double seconds, double high) =>
        InRange(field, seconds, 0, high) ? new Rational((long)Math.Round(seconds * 1e6), 1_000_000) : Rational.Zero;

    /// <summary>The first problem with its field; the others follow in the description.</summary>
    public ItemError ToError()
    {
        string more = string.Concat(found.Skip(1).Take(15).Select(p => $"; {p.Field} {p.Problem}"));
        return new() { Field = found[0].Field, Description = found[0].Problem + more };
    }

    /// <summary>For a request that is one item: every problem as a violation.</summary>
    /// <exception cref="InvalidRequestException">There is at least one.</exception>
    public void ThrowIfAny()
    {
        Violations violations = new();
        foreach ((string field, string problem) in found)
        {
            violations.Add(field, problem);
        }

        violations.ThrowIfAny();
    }

    /// <summary>Runs a domain call; its refusal becomes a problem of a field.</summary>
    public T? Try<T>(string field, Func<T> call)
    {
        try
        {
            return call();
        }
        catch (ArgumentException refusal)
        {
            int end = refusal.Message.IndexOf(" (Parameter '", StringComparison.Ordinal);
            Add(field, "is refused: " + (end < 0 ? refusal.Message : refusal.Message[..end]));
        }
        catch (OverflowException)
        {
            Add(field, "is refused: a number goes beyond what 64 bits hold (9.2 EB for bytes)");
        }

        return default;
    }
}
