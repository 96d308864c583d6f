using System.Text.Json;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>What the elements of an OpenTimelineIO document hold and refer to.</summary>
internal static class TimelineElement
{
    /// <summary>What a composition holds, each with its path.</summary>
    public static IEnumerable<(JsonElement Child, string Path)> Children(JsonElement element, string path)
    {
        if (TimelineJson.Property(element, "children") is { ValueKind: JsonValueKind.Array } children)
        {
            int i = 0;
            foreach (JsonElement child in children.EnumerateArray())
            {
                yield return (child, $"{(path.Length > 0 ? path + "." : string.Empty)}children[{i++}]");
            }
        }
    }

    /// <summary>Whether an item is shown.</summary>
    public static bool IsEnabled(JsonElement element) => TimelineJson.Property(element, "enabled") is not { ValueKind: JsonValueKind.False };

    /// <summary>Whether an element holds others.</summary>
    public static bool IsComposition(JsonElement element) => TimelineJson.Schema(element) is "Stack" or "Track" or "Timeline" or "SerializableCollection";

    /// <summary>Where the children of a composition stand: those of a timeline below its tracks.</summary>
    public static (JsonElement Element, string Path) Inner(JsonElement element, string path) =>
        TimelineJson.Schema(element) == "Timeline" ? (TimelineJson.Property(element, "tracks") ?? default, $"{path}.tracks") : (element, path);

    /// <summary>How much of its media there is.</summary>
    public static JsonElement? Available(JsonElement clip) => Media(clip) is { } media ? TimelineJson.Property(media, "available_range") : null;

    /// <summary>What a clip's media is called: the stem of its file, else its own name, else the clip's.</summary>
    public static string MediaName(JsonElement clip, string name)
    {
        if (Media(clip) is not { } media)
        {
            return name;
        }

        string url = TimelineJson.Text(media, "target_url");
        string file = url[(url.LastIndexOfAny(['/', '\\']) + 1)..];
        int point = file.LastIndexOf('.');
        string stem = point > 0 ? file[..point] : file;
        string reference = TimelineJson.Text(media, "name");
        return stem.Length > 0 ? stem : reference.Length > 0 ? reference : name;
    }

    private static JsonElement? Media(JsonElement clip)
    {
        if (TimelineJson.Property(clip, "media_reference") is { } reference)
        {
            return reference;
        }

        // Clips of the second version keep several references and say which one is meant.
        string key = TimelineJson.Text(clip, "active_media_reference_key");
        return TimelineJson.Property(clip, "media_references") is { } all ? TimelineJson.Property(all, key.Length > 0 ? key : "DEFAULT_MEDIA") : null;
    }
}
