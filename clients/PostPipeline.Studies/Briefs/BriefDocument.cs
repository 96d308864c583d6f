using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace PostPipeline.Studies.Briefs;

/// <summary>The documentation of a brief and its JSON Schema, both made from the table of keys that the reader uses.</summary>
public static class BriefDocument
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The page that documents every key.</summary>
    public static string Markdown()
    {
        StringBuilder page = new();
        page.Append("""
            # The brief, key by key

            A brief is a UTF-8 YAML file of at most 1 MB. It is valid with eight answers: `production`, `shoot.days`, `shoot.cameras`, `shoot.hours_per_day` (or its default by kind of production), `edit.finished`, `edit.lock`, `deliver.due`, `deliver.raster`. Everything else has a default that counts as *invented*. Unknown keys are refused, with the nearest known one. Anchors, aliases and tags are not allowed.

            An amount carries its unit: `1.5 h`, `512 GB` (decimal) or `4 GiB`, `450 MB/s` (bytes) or `10 Gb/s` (bits), `15 %`. Frame rates are whole numbers or exact fractions: `24`, `24000/1001`. Dates are `2027-03-31`; clocks are `18:30`.

            An *estimate* is an amount, or `{low: 1.5 h, likely: 2.5 h, high: 3.5 h, known: guessed, from: "director"}`, or `unknown`. One time in ten the value lies below low, one time in ten above high; likely is the mode. `known` is measured, quoted, guessed or invented; an estimate that does not say counts as guessed. `min` and `max` are hard bounds. Estimates that move together name a shared `factor`, or `{name: …, weight: 0 to 1}`; one factor has one weight. `unknown` takes the default with its sides doubled and says so.


            """);
        Keys(page, string.Empty, BriefKeys.Top);
        return page.ToString();
    }

    /// <summary>The JSON Schema (2020-12) of a brief.</summary>
    public static string Schema()
    {
        JsonObject root = Object(BriefKeys.Top);
        root.Insert(0, "$schema", "https://json-schema.org/draft/2020-12/schema");
        root.Insert(1, "title", "brief");
        return root.ToJsonString(Indented) + "\n";
    }

    private static void Keys(StringBuilder page, string path, IReadOnlyList<KeySpec> keys)
    {
        page.Append(CultureInfo.InvariantCulture, $"## {(path.Length == 0 ? "Top" : $"`{path}`")}\n\n| key | takes | meaning | default |\n|---|---|---|---|\n");
        foreach (KeySpec key in keys)
        {
            page.Append(CultureInfo.InvariantCulture, $"| `{key.Name}` | {Takes(key)} | {key.Says} | {(key.Required ? "**required**" : key.Default)} |\n");
        }

        page.Append('\n');
        foreach (KeySpec key in keys.Where(k => k.Keys.Count > 0))
        {
            string name = path.Length == 0 ? key.Name : $"{path}.{key.Name}";
            Keys(page, key.Kind == ValueKind.Map ? name : $"{name}[]", key.Keys);
        }
    }

    private static string Takes(KeySpec key) => key.Kind switch
    {
        ValueKind.Text => "text",
        ValueKind.Choice or ValueKind.YesNoUnknown => string.Join(", ", key.Words),
        ValueKind.Choices => $"list of {string.Join(", ", key.Words)}",
        ValueKind.Whole => $"whole number, {Number(key.Low)} to {Number(key.High)}",
        ValueKind.Number => $"number, {Number(key.Low)} to {Number(key.High)}",
        ValueKind.Size => "size",
        ValueKind.Rate => "data rate",
        ValueKind.Time => $"time, {Amounts.Time(key.Low)} to {Amounts.Time(key.High)}",
        ValueKind.Clock => "clock",
        ValueKind.Date => "date",
        ValueKind.Dates => "list of dates",
        ValueKind.Zone => "IANA time zone",
        ValueKind.Currency => "ISO 4217 code",
        ValueKind.FrameRate => "frame rate",
        ValueKind.Raster => "raster",
        ValueKind.Estimate => $"estimate in {key.Unit}, {Amounts.Text(key.Low, key.Unit)} to {Amounts.Text(key.High, key.Unit)}",
        ValueKind.Map => "keys below",
        ValueKind.Maps => "list, keys below",
        _ => "a count, or a list with the keys below",
    };

    private static string Number(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    private static JsonObject Object(IReadOnlyList<KeySpec> keys)
    {
        JsonObject properties = [];
        foreach (KeySpec key in keys)
        {
            JsonObject property = Property(key);
            property["description"] = key.Says;
            properties[key.Name] = property;
        }

        JsonObject all = new() { ["type"] = "object", ["additionalProperties"] = false, ["properties"] = properties };
        if (keys.Any(k => k.Required))
        {
            all["required"] = new JsonArray([.. keys.Where(k => k.Required).Select(k => (JsonNode)k.Name)]);
        }

        return all;
    }

    private static JsonObject Property(KeySpec key)
    {
        JsonArray Words() => new([.. key.Words.Select(w => (JsonNode)w)]);
        JsonObject List() => new() { ["type"] = "array", ["items"] = Object(key.Keys) };
        return key.Kind switch
        {
            // YAML 1.1 tools read yes and no as true and false.
            ValueKind.YesNoUnknown => new() { ["enum"] = new JsonArray([.. key.Words.Select(w => (JsonNode)w), true, false]) },
            ValueKind.Choice => new() { ["enum"] = Words() },
            ValueKind.Choices => new() { ["type"] = "array", ["items"] = new JsonObject { ["enum"] = Words() } },
            ValueKind.Whole => new() { ["type"] = "integer", ["minimum"] = key.Low, ["maximum"] = key.High },
            ValueKind.Number => new() { ["type"] = "number", ["minimum"] = key.Low, ["maximum"] = key.High },
            ValueKind.Dates => new() { ["type"] = "array", ["items"] = new JsonObject { ["type"] = "string" } },
            ValueKind.FrameRate => new() { ["type"] = new JsonArray("integer", "string") },
            ValueKind.Estimate => new() { ["type"] = new JsonArray("number", "string", "object") },
            ValueKind.Map => Object(key.Keys),
            ValueKind.Maps => List(),
            ValueKind.CountOrMaps => new() { ["oneOf"] = new JsonArray(new JsonObject { ["type"] = "integer", ["minimum"] = key.Low, ["maximum"] = key.High }, List()) },
            _ => new() { ["type"] = "string" },
        };
    }
}
