using System.Globalization;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;

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
    /// <exception cref="ArgumentException">It cannot be read, or the input cannot have such a value; the message says what is allowed.</exception>
    public static SweepAxis Parse(StudyModel model, string text)
    {
        string[] sides = text.Split('=', 2);
        if (sides.Length != 2)
        {
            throw new ArgumentException("INPUT=a,b,c or INPUT=from:to:count is expected", nameof(text));
        }

        string name = sides[0].Trim();
        InputTable inputs = model.Inputs;
        string unit = inputs.Inputs[inputs.PlaceOf(name)].Unit;
        string[] range = sides[1].Split(':');
        if (range.Length == 1)
        {
            double[] values = [.. sides[1].Split(',').Select(v => inputs.Allowed(name, Value(v, unit)))];
            return values.Length <= MaximumValues
                ? new(name, values)
                : throw new ArgumentException($"{values.Length} values stand for {name}; allowed is 1 to {MaximumValues}", nameof(text));
        }

        if (range.Length != 3 || !int.TryParse(range[2], NumberStyles.None, CultureInfo.InvariantCulture, out int count) || count is < 2 or > MaximumValues)
        {
            throw new ArgumentException($"from:to:count with a count from 2 to {MaximumValues} is expected after {name}=", nameof(text));
        }

        double from = inputs.Allowed(name, Value(range[0], unit));
        double to = inputs.Allowed(name, Value(range[1], unit));
        return new(name, [.. Enumerable.Range(0, count).Select(i => from + ((to - from) * i / (count - 1)))]);
    }

    /// <summary>Reads <c>INPUT=from:to</c>, the first below the second.</summary>
    /// <param name="model">The model that has the input.</param>
    /// <param name="text">The text.</param>
    /// <exception cref="ArgumentException">It cannot be read, or the input cannot have such a value; the message says what is allowed.</exception>
    public static SweepAxis ParseRange(StudyModel model, string text)
    {
        if (text.Split('=', 2) is not [_, string ends] || ends.Split(':').Length != 2)
        {
            throw new ArgumentException("INPUT=from:to is expected", nameof(text));
        }

        SweepAxis axis = Parse(model, text + ":2");
        return axis.Values[0] < axis.Values[1]
            ? axis
            : throw new ArgumentException("the first end must lie below the second", nameof(text));
    }

    /// <summary>An amount in an input's unit: with its unit as in a brief, or a bare number in the unit that the input is kept in.</summary>
    /// <param name="text">The amount.</param>
    /// <param name="unit">The unit.</param>
    public static double Value(string text, string unit)
    {
        if (Amounts.TryParse(text.Trim(), unit, out double value, out string problem)
            || (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value)))
        {
            return value;
        }

        throw new ArgumentException($"'{text.Trim()}' cannot be read: {problem}", nameof(text));
    }
}
