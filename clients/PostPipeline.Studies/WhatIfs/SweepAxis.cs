using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>An input and the values that a sweep fixes it at.</summary>
/// <param name="Input">The input's name.</param>
/// <param name="Values">Its values, in the input's unit.</param>
public sealed record SweepAxis(string Input, IReadOnlyList<double> Values)
{
    /// <summary>The most values of an axis.</summary>
    public const int MaximumValues = 1000;

    /// <summary>Reads <c>INPUT=a,b,c</c> or <c>INPUT=from:to:count</c>; values carry the input's unit, as in a brief.</summary>
    /// <param name="model">The model that has the input.</param>
    /// <param name="text">The text.</param>
    /// <exception cref="ArgumentException">It cannot be read; the message says what is allowed.</exception>
    public static SweepAxis Parse(StudyModel model, string text)
    {
        string[] sides = text.Split('=', 2);
        if (sides.Length != 2)
        {
            throw new ArgumentException($"'{text}' is not INPUT=a,b,c or INPUT=from:to:count.", nameof(text));
        }

        string name = sides[0].Trim();
        string unit = model.Inputs.Inputs[model.Inputs.PlaceOf(name)].Unit;
        string[] range = sides[1].Split(':');
        if (range.Length == 1)
        {
            return Bounded(new(name, [.. sides[1].Split(',').Select(v => Value(v, unit))]));
        }

        if (range.Length != 3 || !int.TryParse(range[2], out int count) || count is < 2 or > MaximumValues)
        {
            throw new ArgumentException($"'{sides[1]}' is not from:to:count with a count from 2 to {MaximumValues}.", nameof(text));
        }

        double from = Value(range[0], unit);
        double to = Value(range[1], unit);
        return new(name, [.. Enumerable.Range(0, count).Select(i => from + ((to - from) * i / (count - 1)))]);
    }

    /// <summary>An amount in an input's unit: with its unit as in a brief, or a bare number in the unit that the input is kept in.</summary>
    /// <param name="text">The amount.</param>
    /// <param name="unit">The unit.</param>
    public static double Value(string text, string unit)
    {
        if (Amounts.TryParse(text.Trim(), unit, out double value, out string problem)
            || double.TryParse(text, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out value))
        {
            return value;
        }

        throw new ArgumentException(problem, nameof(text));
    }

    private static SweepAxis Bounded(SweepAxis axis) => axis.Values.Count is >= 1 and <= MaximumValues
        ? axis
        : throw new ArgumentException($"{axis.Values.Count} values stand for {axis.Input}; allowed is 1 to {MaximumValues}.", nameof(axis));
}
