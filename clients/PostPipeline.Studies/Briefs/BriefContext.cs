namespace PostPipeline.Studies.Briefs;

/// <summary>What one reading of one file gathers: its problems and its inputs.</summary>
internal sealed class BriefContext(string file)
{
    private readonly Dictionary<string, Estimate> inputs = new(StringComparer.Ordinal);
    private readonly List<Estimate> order = [];

    public string File { get; } = file;

    public List<BriefProblem> Problems { get; } = [];

    public IReadOnlyList<Estimate> Inputs => order;

    public Estimate Register(Estimate input)
    {
        if (inputs.TryAdd(input.Key, input))
        {
            order.Add(input);
        }

        return input;
    }

    public void Problem(YamlNode? at, string key, string message)
    {
        string value = at switch
        {
            YamlText text => Short(text.Value),
            YamlList => "a list",
            YamlMap => "a map",
            _ => string.Empty,
        };
        Problems.Add(new(File, at?.Line ?? 0, at?.Column ?? 0, key, value, message));
    }

    private static string Short(string value) => value.Length <= 60 ? value : value[..57] + "...";
}
