using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Inputs;

/// <summary>
/// Every number that a study may draw, fix or change, by name and place. Uncertain inputs of the brief come first,
/// then what the services answered with a spread, then the means (farm speed, tier sizes, people) as constants that a
/// what-if may change.
/// </summary>
public sealed class InputTable
{
    private readonly List<Estimate> inputs = [];
    private readonly List<QuantileTable> tables = [];
    private readonly List<string> chances = [];
    private readonly Dictionary<string, int> places = new(StringComparer.Ordinal);

    /// <summary>The inputs in order.</summary>
    public IReadOnlyList<Estimate> Inputs => inputs;

    /// <summary>Chances beside the inputs: the farm's own noise, rounds of review, named events. A draw gives each a number between 0 and 1.</summary>
    public IReadOnlyList<string> Chances => chances;

    /// <summary>How many there are.</summary>
    public int Count => inputs.Count;

    /// <summary>The place of an input.</summary>
    /// <param name="name">Its key.</param>
    /// <exception cref="ArgumentException">There is none; the message names the nearest.</exception>
    public int PlaceOf(string name)
    {
        if (places.TryGetValue(name, out int place))
        {
            return place;
        }

        string? near = NearestWord.Of(name, places.Keys);
        throw new ArgumentException(near is null ? $"There is no input '{name}'." : $"There is no input '{name}'; did you mean '{near}'?", nameof(name));
    }

    /// <summary>Refuses a value that an input cannot have, such as −5 nodes or 200 % failures.</summary>
    /// <param name="name">Its key.</param>
    /// <param name="value">A value in its unit.</param>
    /// <returns>The value.</returns>
    /// <exception cref="ArgumentException">There is no such input, or it cannot have that value; the message says what is allowed.</exception>
    public double Allowed(string name, double value)
    {
        Estimate input = inputs[PlaceOf(name)];
        return value >= input.Minimum && value <= input.Maximum
            ? value
            : throw new ArgumentException(
                $"{name} = {Amounts.Text(value, input.Unit)} cannot be; allowed is {Amounts.Text(input.Minimum, input.Unit)} {(input.Maximum > 1e18 ? "or more" : $"to {Amounts.Text(input.Maximum, input.Unit)}")}", nameof(value));
    }

    /// <summary>Whether there is an input of that name.</summary>
    /// <param name="name">Its key.</param>
    public bool Has(string name) => places.ContainsKey(name);

    /// <summary>Adds an input of the brief.</summary>
    /// <param name="input">Low, likely, high.</param>
    public int Add(Estimate input) => Add(input, QuantileTable.Of(input));

    /// <summary>Adds a mean: a constant that a what-if may change.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">Its value.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="low">The least that a what-if may fix it at.</param>
    /// <param name="high">The most.</param>
    public int AddMean(string name, double value, string unit, double low, double high) =>
        Add(new Estimate(name, value, value, value, low, high, unit, Known.Quoted));

    /// <summary>Adds a factor around 1 whose logarithm is normal: the error that all predictions of a class share.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="logDeviation">Standard deviation of its logarithm.</param>
    /// <param name="known">How it is known.</param>
    public int AddLogNormal(string name, double logDeviation, Known known)
    {
        double ninetieth = Math.Exp(1.2815515655446004 * logDeviation);
        Estimate input = new(name, 1 / ninetieth, 1, ninetieth, 0, double.MaxValue, "factor", known);
        return Add(input, QuantileTable.OfLogNormal(1, logDeviation));
    }

    /// <summary>Adds a chance.</summary>
    /// <param name="name">Its name; its numbers hang on it.</param>
    /// <returns>Its place among the chances.</returns>
    public int AddChance(string name)
    {
        chances.Add(name);
        return chances.Count - 1;
    }

    internal QuantileTable Table(int place) => tables[place];

    private int Add(Estimate input, QuantileTable table)
    {
        places.Add(input.Key, inputs.Count);
        inputs.Add(input);
        tables.Add(table);
        return inputs.Count - 1;
    }
}
