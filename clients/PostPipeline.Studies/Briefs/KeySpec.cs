namespace PostPipeline.Studies.Briefs;

/// <summary>
/// One key of a file: what it takes, what it means, what holds where it is absent. The reader, the JSON Schema and
/// the documentation all come from this one table, so they cannot disagree.
/// </summary>
internal sealed record KeySpec(string Name, ValueKind Kind, string Says)
{
    /// <summary>What holds where the key is absent, for the documentation; empty where the key is required.</summary>
    public string Default { get; init; } = string.Empty;

    /// <summary>Whether a file without the key is refused.</summary>
    public bool Required { get; init; }

    /// <summary>The unit of an estimate: h, d, s, share, B, B/s, money, or a count in words.</summary>
    public string Unit { get; init; } = string.Empty;

    /// <summary>The smallest value allowed, in the unit.</summary>
    public double Low { get; init; }

    /// <summary>The largest value allowed, in the unit.</summary>
    public double High { get; init; } = 1e15;

    /// <summary>The words allowed.</summary>
    public IReadOnlyList<string> Words { get; init; } = [];

    /// <summary>The keys below.</summary>
    public IReadOnlyList<KeySpec> Keys { get; init; } = [];

    public static KeySpec Text(string name, string says, string fallback, int longest = 80) =>
        new(name, ValueKind.Text, says) { Default = fallback, High = longest };

    public static KeySpec Choice(string name, string says, string fallback, params string[] words) =>
        new(name, ValueKind.Choice, says) { Default = fallback, Words = words };

    public static KeySpec Choices(string name, string says, string fallback, params string[] words) =>
        new(name, ValueKind.Choices, says) { Default = fallback, Words = words };

    public static KeySpec Whole(string name, string says, string fallback, long low, long high) =>
        new(name, ValueKind.Whole, says) { Default = fallback, Low = low, High = high };

    public static KeySpec Number(string name, string says, string fallback, double low, double high) =>
        new(name, ValueKind.Number, says) { Default = fallback, Low = low, High = high };

    public static KeySpec YesNo(string name, string says, string fallback = "unknown") =>
        new(name, ValueKind.YesNoUnknown, says) { Default = fallback, Words = ["yes", "no", "unknown"] };

    public static KeySpec Of(ValueKind kind, string name, string says, string fallback) => new(name, kind, says) { Default = fallback };

    public static KeySpec Time(string name, string says, string fallback, double lowSeconds, double highSeconds) =>
        new(name, ValueKind.Time, says) { Default = fallback, Low = lowSeconds, High = highSeconds };

    public static KeySpec Estimate(string name, string unit, string says, string fallback, double low, double high) =>
        new(name, ValueKind.Estimate, says) { Default = fallback, Unit = unit, Low = low, High = high };

    public static KeySpec Map(string name, string says, params KeySpec[] keys) =>
        new(name, ValueKind.Map, says) { Default = "the defaults of its keys", Keys = keys };

    public static KeySpec Maps(string name, string says, string fallback, params KeySpec[] keys) =>
        new(name, ValueKind.Maps, says) { Default = fallback, Keys = keys };
}
