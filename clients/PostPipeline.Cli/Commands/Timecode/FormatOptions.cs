using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Quantities;
using WireRate = PostPipeline.Contracts.Types.V1.FrameRate;
using WireRational = PostPipeline.Contracts.Types.V1.Rational;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary>Options that say how frames are counted, and how they are read.</summary>
internal static class FormatOptions
{
    public static Option<string> Rate { get; } = new("--rate")
    {
        Description = "Frames per second: a whole number or an exact fraction such as 24000/1001.",
        Required = true,
        HelpName = "RATE",
    };

    public static Option<bool> Drop { get; } = new("--drop")
    {
        Description = "Drop-frame numbering; at 30000/1001, 60000/1001 and 120000/1001 only.",
    };

    public static Option<bool> Snap { get; } = new("--snap")
    {
        Description = "Take a dropped label as the next label that exists, instead of refusing it.",
    };

    /// <summary>Rate and numbering as given.</summary>
    public static LabelFormat Format(Session session) => new() { Rate = ReadRate(session, Rate), DropFrame = session.Line.GetValue(Drop) };

    /// <summary>A frame rate as given.</summary>
    public static WireRate ReadRate(Session session, Option<string> option) => ReadRate(option.Name, session.Line.GetValue(option)!);

    /// <summary>A fraction as given: a whole number, a decimal or a fraction.</summary>
    public static Rational ReadFraction(string option, string text) =>
        Rational.TryParse(text, out Rational value)
            ? value
            : throw new InputException(InputProblem.Of(option, text, "is no number; write a whole number, a decimal or a fraction such as 1/2"));

    /// <summary>A fraction for a message.</summary>
    public static WireRational Write(Rational value) => new() { Numerator = value.Numerator, Denominator = value.Denominator };

    private static WireRate ReadRate(string option, string text) =>
        FrameRate.TryParse(text, out FrameRate rate, out string problem)
            ? new() { Numerator = rate.Numerator, Denominator = rate.Denominator }
            : throw new InputException(InputProblem.Of(option, text, problem));
}
