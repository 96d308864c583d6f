using System.Globalization;

namespace PostPipeline.Client;

/// <summary>
/// Which item of a list a field names. A service refuses <c>cameras[2].takes[5].bytes</c>; the user looks for the line that
/// made the item.
/// </summary>
/// <param name="Index">The place of the item in its list, from 0.</param>
/// <param name="Rest">The field within the item; empty where the item as a whole is meant.</param>
public readonly record struct ItemPlace(int Index, string Rest)
{
    /// <summary>The item of a list that a field names; null where the field lies elsewhere.</summary>
    /// <param name="list">The list as a service names it: <c>cameras</c>.</param>
    /// <param name="field">The field.</param>
    public static ItemPlace? In(string list, string field)
    {
        int first = list.Length + 1;
        int end = field.IndexOf(']', StringComparison.Ordinal);
        return field.StartsWith($"{list}[", StringComparison.Ordinal) && end > first
            && int.TryParse(field.AsSpan(first, end - first), NumberStyles.None, CultureInfo.InvariantCulture, out int index)
            ? new(index, field[(end + 1)..].TrimStart('.'))
            : null;
    }
}
