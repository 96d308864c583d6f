using System.Globalization;

namespace PostPipeline.Studies.Briefs;

/// <summary>
/// Reads the keys of one map against their table. Every value that is wrong is noted with its place and replaced by
/// the default, so that one reading finds every problem of the file.
/// </summary>
internal sealed partial class Section
{
    private readonly BriefContext context;
    private readonly Dictionary<string, YamlNode> values = new(StringComparer.Ordinal);
    private readonly IReadOnlyList<KeySpec> specs;

    public Section(BriefContext context, string key, YamlNode? node, IReadOnlyList<KeySpec> specs)
    {
        (this.context, Key, Node, this.specs) = (context, key, node, specs);
        if (node is null or YamlText { Value: "" or "~" or "null", Quoted: false })
        {
            return;
        }

        if (node is not YamlMap map)
        {
            context.Problem(node, key, $"a map of keys is expected here: {string.Join(", ", specs.Select(s => s.Name))}");
            return;
        }

        foreach ((YamlText name, YamlNode value) in map.Entries)
        {
            if (specs.Any(s => s.Name == name.Value))
            {
                values.Add(name.Value, value);
                continue;
            }

            string? near = NearestWord.Of(name.Value, specs.Select(s => s.Name));
            string hint = near is null ? $"known here are {string.Join(", ", specs.Select(s => s.Name))}" : $"did you mean '{near}'?";
            context.Problem(name, PathOf(name.Value), $"this key is not known; {hint}");
        }
    }

    /// <summary>The key of the map itself.</summary>
    public string Key { get; }

    /// <summary>The map's node, for problems that concern it as a whole.</summary>
    public YamlNode? Node { get; }

    /// <summary>The file as the caller named it.</summary>
    public string File => context.File;

    public bool Has(string name) => values.ContainsKey(name);

    public string PathOf(string name) => Key.Length == 0 ? name : $"{Key}.{name}";

    public void Problem(string name, string message) =>
        context.Problem(values.GetValueOrDefault(name) ?? Node, PathOf(name), message);

    public string Text(string name, string fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        if (node.Value.Length == 0 || node.Value.Length > spec.High)
        {
            return Refuse(node, spec, $"a text of 1 to {spec.High:0} characters is expected", fallback);
        }

        return node.Value.Any(char.IsControl) ? Refuse(node, spec, "control characters are not allowed", fallback) : node.Value;
    }

    public string Choice(string name, string fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        return spec.Words.Contains(node.Value) ? node.Value : Refuse(node, spec, NotAllowed(node.Value, spec.Words), fallback);
    }

    public IReadOnlyList<string> Choices(string name, params string[] fallback)
    {
        KeySpec spec = Spec(name);
        if (!values.TryGetValue(name, out YamlNode? node))
        {
            return fallback;
        }

        List<string> chosen = [];
        foreach (YamlNode item in Items(node))
        {
            if (item is YamlText text && spec.Words.Contains(text.Value))
            {
                chosen.Add(text.Value);
            }
            else
            {
                context.Problem(item, PathOf(name), NotAllowed((item as YamlText)?.Value ?? string.Empty, spec.Words));
            }
        }

        return chosen;
    }

    public bool? YesNo(string name, bool? fallback) =>
        Choice(name, fallback switch { true => "yes", false => "no", null => "unknown" }) switch { "yes" => true, "no" => false, _ => null };

    public long Whole(string name, long fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        return long.TryParse(node.Value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long value)
            && value >= spec.Low && value <= spec.High
            ? value
            : Refuse(node, spec, $"a whole number from {spec.Low:0} to {spec.High:0} is expected", fallback);
    }

    public double Number(string name, double fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        return Amounts.TryParse(node.Value, spec.Unit, out double value, out _) && value >= spec.Low && value <= spec.High
            ? value
            : Refuse(node, spec, string.Create(CultureInfo.InvariantCulture, $"a number from {spec.Low:0.######} to {spec.High:0.######} is expected"), fallback);
    }

    public Section Map(string name) => new(context, PathOf(name), values.GetValueOrDefault(name), Spec(name).Keys);

    public IReadOnlyList<Section> Maps(string name)
    {
        KeySpec spec = Spec(name);
        if (!values.TryGetValue(name, out YamlNode? node))
        {
            return [];
        }

        if (node is not YamlList list)
        {
            context.Problem(node, PathOf(name), "a list of maps is expected here, each starting with '- '");
            return [];
        }

        return [.. list.Items.Select((item, i) => new Section(context, $"{PathOf(name)}[{i}]", item, spec.Keys))];
    }

    /// <summary>A count, where the key holds one; null where it holds a list.</summary>
    public long? Count(string name) => values.GetValueOrDefault(name) is YamlText ? Whole(name, 1) : null;

    private static IEnumerable<YamlNode> Items(YamlNode node) => node is YamlList list ? list.Items : [node];

    private static string NotAllowed(string typed, IEnumerable<string> words, string? otherwise = null)
    {
        string? near = NearestWord.Of(typed, words);
        string allowed = otherwise ?? $"allowed is {string.Join(", ", words)}";
        return near is null ? allowed : $"{allowed}; did you mean '{near}'?";
    }

    private YamlText? Scalar(string name, out KeySpec spec)
    {
        spec = Spec(name);
        if (!values.TryGetValue(name, out YamlNode? node))
        {
            if (spec.Required)
            {
                context.Problem(Node, PathOf(name), $"this key is missing; {spec.Says}");
            }

            return null;
        }

        if (node is YamlText text)
        {
            return text;
        }

        context.Problem(node, PathOf(name), "a single value is expected here");
        return null;
    }

    private T Refuse<T>(YamlText node, KeySpec spec, string message, T fallback)
    {
        context.Problem(node, PathOf(spec.Name), message);
        return fallback;
    }

    private KeySpec Spec(string name) =>
        specs.FirstOrDefault(s => s.Name == name) ?? throw new InvalidOperationException($"The key {PathOf(name)} is not in the table of keys.");
}
