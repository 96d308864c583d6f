using PostPipeline.Flows;

namespace PostPipeline.Farms.Simulations;

/// <summary>What is wrong with a scenario, as a field path and what is allowed there.</summary>
internal sealed class ProblemList
{
    // Enough to mend a file by; a list of a million bad rows is the same news.
    private const int Most = 100;

    private readonly List<FarmProblem> all = [];

    /// <summary>Everything found.</summary>
    public IReadOnlyList<FarmProblem> All => all;

    /// <summary>How many were found.</summary>
    public int Count => all.Count;

    /// <summary>Whether more would say nothing new.</summary>
    public bool IsFull => all.Count >= Most;

    /// <summary>A place in a list.</summary>
    public void Index(string path, int value, int count, string what)
    {
        if (value < 0 || value >= count)
        {
            Add(path, count == 0 ? $"{value} names one of the {what}, and there are none" : $"{value}; allowed is 0 to {count - 1}, one of the {what}");
        }
    }

    /// <summary>A whole number within a range.</summary>
    public void Range(string path, long value, long low, long high, string what = "")
    {
        if (value < low || value > high)
        {
            Add(path, $"{value}{(what.Length > 0 ? " " + what : string.Empty)}; allowed is {low} to {high}");
        }
    }

    /// <summary>A finite number within a range.</summary>
    public void Real(string path, double value, double low, double high, string what = "")
    {
        if (!(double.IsFinite(value) && value >= low && value <= high))
        {
            Add(path, $"{value}{(what.Length > 0 ? " " + what : string.Empty)}; allowed is {low} to {high}");
        }
    }

    /// <summary>Windows in which something is open; null means always.</summary>
    public void Calendar(string path, Windows? windows) =>
        Range(path, windows?.Count ?? 0, 0, FarmScenarioLimits.MostWindows, "windows");

    /// <summary>Whatever else is wrong.</summary>
    public void Add(string path, string message)
    {
        if (all.Count < Most)
        {
            all.Add(new(path, message));
        }
    }
}
