using System.Collections;
using System.Globalization;
using Google.Protobuf;
using Google.Protobuf.Reflection;
using PostPipeline.Quantities;
using PostPipeline.Studies.Briefs;
using Window = PostPipeline.Contracts.Types.V1.Window;

namespace PostPipeline.Studies.Farms;

/// <summary>Fills a message from a YAML map, field by field; what does not fit is a problem with its line.</summary>
internal sealed class MessageFields(string file, List<BriefProblem> problems)
{
    public void Fill(IMessage message, YamlNode node, string path)
    {
        if (node is not YamlMap map)
        {
            Add(node, path, string.Empty, $"a map is expected here, with keys such as {Names(message.Descriptor)}");
            return;
        }

        foreach ((YamlText key, YamlNode value) in map.Entries)
        {
            string at = path.Length == 0 ? key.Value : $"{path}.{key.Value}";
            if (message.Descriptor.FindFieldByName(key.Value) is not FieldDescriptor field)
            {
                string? near = NearestWord.Of(key.Value, message.Descriptor.Fields.InDeclarationOrder().Select(f => f.Name));
                Add(key, at, string.Empty, near is null ? $"the key is not known; allowed are {Names(message.Descriptor)}" : $"the key is not known; did you mean '{near}'?");
            }
            else if (field.IsMap)
            {
                Entries((IDictionary)field.Accessor.GetValue(message), field.MessageType.FindFieldByNumber(2), value, at);
            }
            else if (field.IsRepeated)
            {
                Items((IList)field.Accessor.GetValue(message), field, value, at);
            }
            else if (One(field, value, at) is object one)
            {
                field.Accessor.SetValue(message, one);
            }
        }
    }

    private static string Names(MessageDescriptor message) => string.Join(", ", message.Fields.InDeclarationOrder().Select(f => f.Name));

    private void Entries(IDictionary entries, FieldDescriptor values, YamlNode node, string path)
    {
        if (node is not YamlMap map)
        {
            Add(node, path, string.Empty, "a map of names to values is expected here");
            return;
        }

        foreach ((YamlText key, YamlNode value) in map.Entries)
        {
            if (One(values, value, $"{path}.{key.Value}") is object one)
            {
                entries[key.Value] = one;
            }
        }
    }

    private void Items(IList items, FieldDescriptor field, YamlNode node, string path)
    {
        if (field.FieldType == FieldType.Message && field.MessageType == Window.Descriptor && node is YamlText hours)
        {
            foreach (Window window in Daily(hours, path))
            {
                items.Add(window);
            }

            return;
        }

        if (node is not YamlList list)
        {
            Add(node, path, string.Empty, "a list is expected here");
            return;
        }

        for (int i = 0; i < list.Items.Count; i++)
        {
            if (One(field, list.Items[i], $"{path}[{i}]") is object one)
            {
                items.Add(one);
            }
        }
    }

    private object? One(FieldDescriptor field, YamlNode node, string path)
    {
        if (field.FieldType == FieldType.Message)
        {
            IMessage message = field.MessageType.Parser.ParseFrom(ByteString.Empty);
            Fill(message, node, path);
            return message;
        }

        if (node is not YamlText text)
        {
            Add(node, path, string.Empty, "a single value is expected here");
            return null;
        }

        object? value = Value(field, text.Value, out string problem);
        if (value is null)
        {
            Add(node, path, text.Value, problem);
        }

        return value;
    }

    private static object? Value(FieldDescriptor field, string text, out string problem)
    {
        problem = string.Empty;
        switch (field.FieldType)
        {
            case FieldType.String:
                return text;
            case FieldType.Bool when bool.TryParse(text, out bool truth):
                return truth;
            case FieldType.Bool:
                problem = "allowed is true or false";
                return null;
            case FieldType.Int32 when int.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowThousands, CultureInfo.InvariantCulture, out int small):
                return small;
            case FieldType.Int64 when long.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowThousands, CultureInfo.InvariantCulture, out long whole):
                return whole;
            case FieldType.Int64 when field.Name.Contains("bytes", StringComparison.Ordinal):
                return QuantityText.TryParseSize(text, out DataSize size, out problem) ? size.Bytes : null;
            case FieldType.Int32 or FieldType.Int64:
                problem = "allowed is a whole number";
                return null;
            case FieldType.Enum:
                string prefix = Snake(field.EnumType.Name);
                EnumValueDescriptor? found = field.EnumType.FindValueByName($"{prefix}_{text.ToUpperInvariant()}");
                problem = $"allowed is one of {string.Join(", ", field.EnumType.Values.Skip(1).Select(v => v.Name[(prefix.Length + 1)..].ToLowerInvariant()))}";
                return found is null ? null : Enum.ToObject(field.EnumType.ClrType, found.Number);
            case FieldType.Double when double.TryParse(text, NumberStyles.Float | NumberStyles.AllowThousands, CultureInfo.InvariantCulture, out double number):
                return number;
            case FieldType.Double when field.Name.Contains("bytes_per_second", StringComparison.Ordinal):
                return QuantityText.TryParseRate(text, out DataRate rate, out problem) ? rate.BytesPerSecond.ToDouble() : null;
            case FieldType.Double when field.Name.Contains("seconds", StringComparison.Ordinal):
                return QuantityText.TryParseTime(text, out Rational seconds, out problem) ? seconds.ToDouble() : null;
            default:
                problem = "allowed is a number";
                return null;
        }
    }

    // "20:00-08:00 x 30": on each of 30 days from the epoch, which is a midnight; an end before the start lies on the next day.
    private IEnumerable<Window> Daily(YamlText text, string path)
    {
        string[] parts = text.Value.Split('x', StringSplitOptions.TrimEntries);
        string[] hours = parts[0].Split('-', StringSplitOptions.TrimEntries);
        if (parts.Length != 2
            || hours.Length != 2
            || !int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out int days)
            || days is < 1 or > 3_660
            || Clock(hours[0]) is not double from
            || Clock(hours[1]) is not double until)
        {
            Add(text, path, text.Value, "allowed is a list of windows, or hours and days such as 20:00-08:00 x 30 (1 to 3660 days)");
            yield break;
        }

        double length = until > from ? until - from : until + 86_400 - from;
        for (int d = until > from ? 0 : -1; d < days; d++)
        {
            yield return new() { FromSeconds = (d * 86_400.0) + from, UntilSeconds = (d * 86_400.0) + from + length };
        }
    }

    private static double? Clock(string text)
    {
        string[] parts = text.Split(':');
        return parts.Length == 2
            && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out int hour)
            && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out int minute)
            && hour <= 24
            && minute < 60
            && (hour * 60) + minute <= 1_440
            ? (hour * 3_600.0) + (minute * 60)
            : null;
    }

    // ClosingRule to CLOSING_RULE, the prefix of its values.
    private static string Snake(string name) =>
        string.Concat(name.Select((c, i) => i > 0 && char.IsUpper(c) ? $"_{c}" : $"{char.ToUpperInvariant(c)}"));

    private void Add(YamlNode node, string path, string value, string message) => problems.Add(new(file, node.Line, node.Column, path, value, message));
}
