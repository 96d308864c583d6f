using System.Globalization;
using System.Text.Json;
using NodaTime;
using NodaTime.Text;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Files;

/// <summary>
/// A place in a JSON file, which notes what is wrong there. Below a place that is not there nothing is wrong any more, so
/// that one fault is told once.
/// </summary>
internal sealed class JsonPlace(string file, string path, JsonElement? element, List<BriefProblem> problems)
{
    /// <summary>The place as in <c>result.projects[2].stages[0].start</c>.</summary>
    public string Path => path;

    /// <summary>Whether anything usable stands here.</summary>
    public bool IsThere => element is not null;

    /// <summary>Whether <c>null</c> stands here.</summary>
    public bool IsNull => element?.ValueKind == JsonValueKind.Null;

    /// <summary>A member of the object that stands here.</summary>
    /// <param name="name">Its name.</param>
    public JsonPlace this[string name]
    {
        get
        {
            string place = path.Length == 0 ? name : $"{path}.{name}";
            if (element is not { } here)
            {
                return new(file, place, null, problems);
            }

            if (here.ValueKind != JsonValueKind.Object)
            {
                Problem("an object in braces is expected");
                return new(file, place, null, problems);
            }

            if (!here.TryGetProperty(name, out JsonElement member))
            {
                problems.Add(new(file, 0, 0, place, string.Empty, "it is missing"));
                return new(file, place, null, problems);
            }

            return new(file, place, member, problems);
        }
    }

    /// <summary>The items of the list that stands here.</summary>
    /// <param name="most">How many are allowed.</param>
    public IReadOnlyList<JsonPlace> Items(int most)
    {
        if (element is not { } here)
        {
            return [];
        }

        if (here.ValueKind != JsonValueKind.Array || here.GetArrayLength() > most)
        {
            Problem($"a list of at most {most} is expected");
            return [];
        }

        return [.. here.EnumerateArray().Select((item, i) => new JsonPlace(file, $"{path}[{i}]", item, problems))];
    }

    /// <summary>The text that stands here.</summary>
    public string Text()
    {
        if (element is { ValueKind: JsonValueKind.String } here)
        {
            return here.GetString()!;
        }

        Problem("a text in quotes is expected");
        return string.Empty;
    }

    /// <summary>The whole number that stands here; the least where none does.</summary>
    /// <param name="least">The least that is allowed.</param>
    /// <param name="most">The most that is allowed.</param>
    public long Whole(long least, long most)
    {
        if (element is { ValueKind: JsonValueKind.Number } here && here.TryGetInt64(out long value) && value >= least && value <= most)
        {
            return value;
        }

        Problem($"a whole number from {least.ToString(CultureInfo.InvariantCulture)} to {most.ToString(CultureInfo.InvariantCulture)} is expected");
        return least;
    }

    /// <summary>The date that stands here; null where none does.</summary>
    public LocalDate? Date()
    {
        if (element is { ValueKind: JsonValueKind.String } here && LocalDatePattern.Iso.Parse(here.GetString()!) is { Success: true } date)
        {
            return date.Value;
        }

        Problem("a date such as 2027-03-31 is expected");
        return null;
    }

    /// <summary>Notes that something is wrong with what stands here.</summary>
    /// <param name="message">What is wrong and what is allowed.</param>
    public void Problem(string message)
    {
        if (element is { } here)
        {
            string text = here.ValueKind is JsonValueKind.Object ? "{…}" : here.ValueKind is JsonValueKind.Array ? "[…]" : here.ToString() is { Length: > 0 } value ? value : here.GetRawText();
            problems.Add(new(file, 0, 0, path, text.Length > 40 ? text[..40] + "…" : text, message));
        }
    }
}
