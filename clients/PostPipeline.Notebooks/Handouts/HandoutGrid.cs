using System.Globalization;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Notebooks.Handouts;

/// <summary>The states that a handout holds: every combination of some values of a few parameters, the others as they are.</summary>
public sealed class HandoutGrid
{
    /// <summary>The most states of a handout.</summary>
    public const int MostStates = 400;

    private HandoutGrid(IReadOnlyList<(string Name, IReadOnlyList<string> Values)> axes) => Axes = axes;

    /// <summary>Parameters that vary, with their values.</summary>
    public IReadOnlyList<(string Name, IReadOnlyList<string> Values)> Axes { get; }

    /// <summary>How many states there are.</summary>
    public int Count => Axes.Aggregate(1, (product, axis) => product * axis.Values.Count);

    /// <summary>Spreads values over the range of each parameter named.</summary>
    /// <param name="parameters">What the notebook declares.</param>
    /// <param name="names">The parameters that vary.</param>
    /// <param name="steps">How many values a number gets, 2 or more.</param>
    /// <exception cref="ParameterException">A name is unknown or cannot vary, or there would be too many states.</exception>
    public static HandoutGrid Over(IReadOnlyList<ParameterDeclaration> parameters, IReadOnlyList<string> names, int steps)
    {
        List<(string, IReadOnlyList<string>)> axes = [];
        foreach (string name in names)
        {
            ParameterDeclaration p = parameters.FirstOrDefault(d => d.Name == name)
                ?? throw new ParameterException($"parameter {name} is not declared in the notebook; allowed are {string.Join(", ", parameters.Select(d => d.Name))}");
            axes.Add((name, p.Kind switch
            {
                ParameterKind.Number => Spread(p, steps),
                ParameterKind.Choice => p.Options,
                ParameterKind.Flag => ["false", "true"],
                _ => throw new ParameterException($"parameter {name}: a handout varies numbers, choices and switches"),
            }));
        }

        HandoutGrid grid = new(axes);
        return axes.Aggregate(1L, (product, axis) => Math.Min(product * axis.Item2.Count, int.MaxValue)) <= MostStates
            ? grid
            : throw new ParameterException($"these parameters make more than {MostStates} states; vary fewer, or with fewer steps");
    }

    /// <summary>The values of a state, in the order of <see cref="Axes"/>.</summary>
    /// <param name="state">0 to <see cref="Count"/> − 1.</param>
    public IReadOnlyDictionary<string, string> At(int state)
    {
        Dictionary<string, string> values = [];
        foreach ((string name, IReadOnlyList<string> choices) in Axes)
        {
            values[name] = choices[state % choices.Count];
            state /= choices.Count;
        }

        return values;
    }

    // Evenly over the range on the parameter's own steps, with the notebook's own value among them.
    private static string[] Spread(ParameterDeclaration p, int steps)
    {
        double Read(string text) => double.Parse(text, CultureInfo.InvariantCulture);
        (double low, double high, double step) = (Read(p.Minimum), Read(p.Maximum), Read(p.Step));
        return
        [
            .. Enumerable.Range(0, steps).Select(i => low + (Math.Round((high - low) * i / (steps - 1) / step) * step))
                .Select(value => Math.Round(Math.Min(high, value), 9)).Append(Read(p.Value)).Distinct().Order()
                .Select(value => value.ToString("R", CultureInfo.InvariantCulture)),
        ];
    }
}
