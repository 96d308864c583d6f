namespace PostPipeline.Slates.Planning;

/// <summary>Collects faults.</summary>
internal sealed class FaultList
{
    private readonly List<SlateFault> faults = [];

    public IReadOnlyList<SlateFault> All => faults;

    public void Require(bool holds, string field, string message)
    {
        if (!holds)
        {
            faults.Add(new(field, message));
        }
    }

    public void Range(string field, long value, long low, long high) =>
        Require(value >= low && value <= high, field, $"{value} is not allowed; allowed is {low} to {high}");

    public void Unique(string field, IEnumerable<string> names)
    {
        HashSet<string> seen = new(StringComparer.Ordinal);
        foreach (string name in names)
        {
            Require(name.Length > 0, field, "a name is empty");
            Require(seen.Add(name), field, $"the name '{name}' stands twice; names are unique");
        }
    }
}
