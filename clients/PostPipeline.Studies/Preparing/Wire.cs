using System.Globalization;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Preparing;

/// <summary>Our values as messages, and answers that carry errors.</summary>
internal static class Wire
{
    public static Contracts.Types.V1.Rational Of(Quantities.Rational value) => new() { Numerator = value.Numerator, Denominator = value.Denominator };

    public static Contracts.Types.V1.FrameRate Of(Quantities.FrameRate value) => new() { Numerator = value.Numerator, Denominator = value.Denominator };

    public static Contracts.Types.V1.Raster Of(Quantities.Raster value) => new() { Width = value.Width, Height = value.Height };

    public static Contracts.Types.V1.Rational Of(DataRate bytes) => Of(bytes.BytesPerSecond);

    /// <summary>A decimal of a brief as the fraction that it was written as.</summary>
    public static Contracts.Types.V1.Rational Decimal(double value) =>
        Quantities.Rational.TryParse(value.ToString("0.########", CultureInfo.InvariantCulture), out Quantities.Rational exact)
            ? Of(exact)
            : throw new ArgumentOutOfRangeException(nameof(value), value, "The number has no finite decimal of at most eight places.");

    public static Verdict Of(bool? known) => known switch { true => Verdict.Pass, false => Verdict.Fail, null => Verdict.Unknown };

    public static bool? Known(Verdict verdict) => verdict switch { Verdict.Pass => true, Verdict.Fail => false, _ => null };

    public static InvalidOperationException Refused(string what, ItemError error) =>
        new($"{what}: {error.Field}: {error.Description}");
}
