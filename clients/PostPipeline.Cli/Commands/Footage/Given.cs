using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Quantities;
using FrameRate = PostPipeline.Contracts.Types.V1.FrameRate;
using Raster = PostPipeline.Contracts.Types.V1.Raster;
using Rational = PostPipeline.Contracts.Types.V1.Rational;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary>Options of the footage verbs and how their values are read: amounts with units, exact rates, plain fractions.</summary>
internal static class Given
{
    /// <summary>Explain the numbers.</summary>
    public static Option<bool> Explain { get; } = new("--explain", "--why") { Description = "Also print the tree behind each number: formula, inputs, sources, margins, limits." };

    /// <summary>An option with a text value.</summary>
    public static Option<string?> Text(string name, string description, string help) => new(name) { Description = description, HelpName = help };

    /// <summary>An option with a text value that must be there.</summary>
    public static Option<string?> Needed(string name, string description, string help) => new(name) { Description = description, HelpName = help, Required = true };

    public static long Bytes(this Session session, Option<string?> option, long ifAbsent = 0) =>
        session.Line.GetValue(option) is not { } text ? ifAbsent
        : QuantityText.TryParseSize(text, out DataSize size, out string problem) ? size.Bytes : throw Refused(option.Name, text, problem);

    public static Rational BytesPerSecond(this Session session, Option<string?> option) =>
        Rate(option.Name, session.Line.GetValue(option) ?? string.Empty);

    public static double BytesPerSecondOrZero(this Session session, Option<string?> option) =>
        session.Line.GetValue(option) is { } text ? Rate(option.Name, text).ToDouble() : 0;

    public static double Seconds(this Session session, Option<string?> option, double ifAbsent = 0) =>
        session.Line.GetValue(option) is not { } text ? ifAbsent
        : QuantityText.TryParseTime(text, out Quantities.Rational seconds, out string problem) ? seconds.ToDouble() : throw Refused(option.Name, text, problem);

    public static FrameRate? Frames(this Session session, Option<string?> option) => session.Line.GetValue(option) is { } text ? Frames(option.Name, text) : null;

    public static FrameRate Frames(string name, string text) =>
        Quantities.FrameRate.TryParse(text, out Quantities.FrameRate rate, out string problem) ? new() { Numerator = rate.Numerator, Denominator = rate.Denominator }
        : throw Refused(name, text, problem);

    public static Raster? Pixels(this Session session, Option<string?> option) => session.Line.GetValue(option) is { } text ? Pixels(option.Name, text) : null;

    public static Raster Pixels(string name, string text) =>
        Quantities.Raster.TryParse(text, out Quantities.Raster raster) ? new() { Width = raster.Width, Height = raster.Height }
        : throw Refused(name, text, $"allowed is width x height in pixels, each 1 to {Quantities.Raster.MaximumSide}, such as 4096x2160");

    public static Rational? Fraction(this Session session, Option<string?> option) =>
        session.Line.GetValue(option) is { } text ? Fraction(option.Name, text) : null;

    public static Rational Fraction(string name, string text) =>
        Quantities.Rational.TryParse(text, out Quantities.Rational value) ? new() { Numerator = value.Numerator, Denominator = value.Denominator }
        : throw Refused(name, text, "allowed is a number such as 0.85 or a fraction such as 17/20");

    public static Rational Rate(string name, string text) =>
        QuantityText.TryParseRate(text, out DataRate rate, out string problem)
            ? new() { Numerator = rate.BytesPerSecond.Numerator, Denominator = rate.BytesPerSecond.Denominator }
            : throw Refused(name, text, problem);

    public static long Size(string name, string text) =>
        QuantityText.TryParseSize(text, out DataSize size, out string problem) ? size.Bytes : throw Refused(name, text, problem);

    /// <summary>A fraction of a message as a number.</summary>
    public static double ToDouble(this Rational value) => (double)value.Numerator / value.Denominator;

    /// <summary>A user's own file of codings; the client reads files, services do not.</summary>
    public static async Task<string> OwnCodingsAsync(this Session session, Option<string?> option) =>
        session.Line.GetValue(option) is { } path ? await File.ReadAllTextAsync(path, session.Cancellation).ConfigureAwait(false) : string.Empty;

    /// <summary>Ends the verb where an item was refused.</summary>
    /// <param name="error">Why; null where it was not.</param>
    /// <param name="label">The value that made the item, where an option may stand several times.</param>
    public static void Refuse(ItemError? error, string label = "")
    {
        if (error is not null)
        {
            throw Refused(error.Field, label, error.Description);
        }
    }

    public static InputException Refused(string name, string value, string problem) => new(InputProblem.Of(name, value, problem));
}
