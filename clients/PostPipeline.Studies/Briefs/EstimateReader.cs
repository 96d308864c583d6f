namespace PostPipeline.Studies.Briefs;

/// <summary>Reads a number, a map of low, likely and high, or <c>unknown</c>.</summary>
internal static class EstimateReader
{
    private static readonly string[] Keys = ["value", "low", "likely", "high", "min", "max", "known", "factor", "from"];
    private static readonly string[] FactorKeys = ["name", "weight"];

    public static Estimate Read(BriefContext context, YamlNode node, string key, KeySpec spec, Estimate fallback)
    {
        if (node is YamlText { Value: "unknown" } unknown)
        {
            return Widened(fallback, spec) with { IsUnknown = true, Line = unknown.Line };
        }

        if (node is YamlText text)
        {
            return Amount(context, text, key, spec) is { } value
                ? fallback with { Low = value, Likely = value, High = value, Known = Known.Guessed, Line = text.Line }
                : fallback;
        }

        if (node is not YamlMap map)
        {
            context.Problem(node, key, $"a number, 'unknown', or a map such as {{low: …, likely: …, high: …, known: guessed}} is expected");
            return fallback;
        }

        return FromMap(context, map, key, spec, fallback);
    }

    // Nobody knows: keep the most likely value and double the distance to both sides, inside what is allowed.
    private static Estimate Widened(Estimate known, KeySpec spec) => known with
    {
        Low = Math.Max(spec.Low, known.IsConstant ? known.Likely * 0.5 : known.Likely - (2 * (known.Likely - known.Low))),
        High = Math.Min(spec.High, known.IsConstant ? known.Likely * 2 : known.Likely + (2 * (known.High - known.Likely))),
    };

    private static Estimate FromMap(BriefContext context, YamlMap map, string key, KeySpec spec, Estimate fallback)
    {
        int before = context.Problems.Count;
        double? value = null, low = null, likely = null, high = null, min = null, max = null;
        Known known = Known.Guessed;
        (string factor, double weight, string origin) = (string.Empty, 1, string.Empty);
        foreach ((YamlText name, YamlNode item) in map.Entries)
        {
            string path = $"{key}.{name.Value}";
            switch (name.Value)
            {
                case "value": value = Amount(context, item, path, spec); break;
                case "low": low = Amount(context, item, path, spec); break;
                case "likely": likely = Amount(context, item, path, spec); break;
                case "high": high = Amount(context, item, path, spec); break;
                case "min": min = Amount(context, item, path, spec); break;
                case "max": max = Amount(context, item, path, spec); break;
                case "known": known = KnownFrom(context, item, path); break;
                case "from": origin = item is YamlText { Value.Length: <= 120 } from ? from.Value : Refuse(context, item, path, "a text of at most 120 characters is expected"); break;
                case "factor": (factor, weight) = Factor(context, item, path); break;
                default:
                    string? near = NearestWord.Of(name.Value, Keys);
                    context.Problem(name, path, near is null ? $"this key is not known; known here are {string.Join(", ", Keys)}" : $"this key is not known; did you mean '{near}'?");
                    break;
            }
        }

        if (context.Problems.Count > before)
        {
            return fallback;
        }

        if (value is { } constant && low is null && likely is null && high is null)
        {
            (low, likely, high) = (constant, constant, constant);
        }

        if (low is not { } l || likely is not { } m || high is not { } h || (value is not null && value != likely))
        {
            context.Problem(map, key, "either 'value', or all of 'low', 'likely' and 'high' are expected");
            return fallback;
        }

        if (l > m || m > h)
        {
            context.Problem(map, key, $"low ≤ likely ≤ high is expected; these are {Amounts.Text(l, spec.Unit)}, {Amounts.Text(m, spec.Unit)}, {Amounts.Text(h, spec.Unit)}");
            return fallback;
        }

        if (min > l || max < h)
        {
            context.Problem(map, key, "min ≤ low and high ≤ max are expected");
            return fallback;
        }

        return fallback with
        {
            Low = l,
            Likely = m,
            High = h,
            Minimum = min ?? spec.Low,
            Maximum = max ?? spec.High,
            Known = known,
            Factor = factor,
            Weight = weight,
            Origin = origin,
            Line = map.Line,
        };
    }

    private static double? Amount(BriefContext context, YamlNode node, string key, KeySpec spec)
    {
        if (node is not YamlText text)
        {
            context.Problem(node, key, "a single value is expected here");
            return null;
        }

        if (!Amounts.TryParse(text.Value, spec.Unit, out double value, out string problem))
        {
            context.Problem(node, key, problem);
            return null;
        }

        if (value < spec.Low || value > spec.High)
        {
            context.Problem(node, key, $"out of range; allowed is {Amounts.Text(spec.Low, spec.Unit)} to {Amounts.Text(spec.High, spec.Unit)}");
            return null;
        }

        return value;
    }

    private static Known KnownFrom(BriefContext context, YamlNode node, string key)
    {
        switch ((node as YamlText)?.Value)
        {
            case "measured": return Known.Measured;
            case "quoted": return Known.Quoted;
            case "guessed": return Known.Guessed;
            case "invented": return Known.Invented;
            default:
                context.Problem(node, key, "allowed is measured, quoted, guessed, invented");
                return Known.Guessed;
        }
    }

    private static (string Factor, double Weight) Factor(BriefContext context, YamlNode node, string key)
    {
        if (node is YamlText { Value.Length: > 0 and <= 40 } name)
        {
            return (name.Value, 1);
        }

        if (node is not YamlMap map)
        {
            context.Problem(node, key, "a name of 1 to 40 characters, or {name: …, weight: 0 to 1} is expected");
            return (string.Empty, 1);
        }

        (string factor, double weight) = (string.Empty, 1);
        foreach ((YamlText part, YamlNode item) in map.Entries)
        {
            if (part.Value == "name" && item is YamlText { Value.Length: > 0 and <= 40 } text)
            {
                factor = text.Value;
            }
            else if (part.Value == "weight" && item is YamlText number && Amounts.TryParse(number.Value, "share", out weight, out _) && weight is >= 0 and <= 1)
            {
                continue;
            }
            else
            {
                context.Problem(part, $"{key}.{part.Value}", FactorKeys.Contains(part.Value) ? "a name of 1 to 40 characters and a weight from 0 to 1 are expected" : "this key is not known; known here are name, weight");
            }
        }

        return (factor, weight);
    }

    private static string Refuse(BriefContext context, YamlNode node, string key, string message)
    {
        context.Problem(node, key, message);
        return string.Empty;
    }
}
