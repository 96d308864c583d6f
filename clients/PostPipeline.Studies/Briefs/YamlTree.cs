using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace PostPipeline.Studies.Briefs;

/// <summary>
/// Reads YAML into nodes that know their place. Anchors, aliases and tags are refused: a person's file needs
/// none of them, and aliases are how a small file becomes a huge one. Depth and number of values are bounded.
/// </summary>
internal static class YamlTree
{
    internal const int MaximumDepth = 16;
    internal const int MaximumValues = 100_000;

    internal static YamlNode Read(string file, string text, string kind = "brief")
    {
        List<BriefProblem> problems = [];
        try
        {
            Parser parser = new(new StringReader(text));
            parser.Consume<StreamStart>();
            if (!parser.TryConsume<DocumentStart>(out _))
            {
                throw new BriefException(file, $"the file is empty; a {kind} starts with '{kind}: 1'");
            }

            int values = 0;
            YamlNode root = Value(parser, file, string.Empty, 0, ref values, problems);
            parser.Consume<DocumentEnd>();
            if (!parser.TryConsume<StreamEnd>(out _))
            {
                problems.Add(new(file, parser.Current!.Start.Line, parser.Current.Start.Column, string.Empty, "---", "a second document starts here; a file holds one"));
            }

            return problems.Count == 0 ? root : throw new BriefException(problems);
        }
        catch (YamlException error)
        {
            problems.Add(new(file, error.Start.Line, error.Start.Column, string.Empty, string.Empty, $"this is not YAML: {error.Message}"));
            throw new BriefException(problems);
        }
    }

    private static YamlNode Value(Parser parser, string file, string key, int depth, ref int values, List<BriefProblem> problems)
    {
        ParsingEvent here = parser.Current!;
        (long line, long column) = (here.Start.Line, here.Start.Column);
        if (++values > MaximumValues || depth > MaximumDepth)
        {
            string bound = depth > MaximumDepth ? $"values are nested more than {MaximumDepth} deep" : $"there are more than {MaximumValues} values";
            throw new BriefException([new(file, line, column, key, string.Empty, $"{bound}; nothing was read")]);
        }

        if (here is AnchorAlias alias)
        {
            throw new BriefException([new(file, line, column, key, $"*{alias.Value}", "aliases are not allowed; write the value out")]);
        }

        if (here is NodeEvent { Anchor.IsEmpty: false } anchored)
        {
            throw new BriefException([new(file, line, column, key, $"&{anchored.Anchor}", "anchors are not allowed; write the value out")]);
        }

        if (here is NodeEvent { Tag.IsEmpty: false } tagged)
        {
            problems.Add(new(file, line, column, key, tagged.Tag.ToString(), "tags are not allowed; write the value plainly"));
        }

        switch (here)
        {
            case Scalar scalar:
                parser.MoveNext();
                return new YamlText(scalar.Value, scalar.Style is not ScalarStyle.Plain, line, column);
            case SequenceStart:
                parser.MoveNext();
                List<YamlNode> items = [];
                while (!parser.TryConsume<SequenceEnd>(out _))
                {
                    items.Add(Value(parser, file, $"{key}[{items.Count}]", depth + 1, ref values, problems));
                }

                return new YamlList(items, line, column);
            case MappingStart:
                parser.MoveNext();
                return Map(parser, file, key, depth, line, column, ref values, problems);
            default:
                throw new BriefException([new(file, line, column, key, string.Empty, "a value is expected here")]);
        }
    }

    private static YamlMap Map(
        Parser parser, string file, string key, int depth, long line, long column, ref int values, List<BriefProblem> problems)
    {
        List<(YamlText, YamlNode)> entries = [];
        Dictionary<string, long> seen = new(StringComparer.Ordinal);
        while (!parser.TryConsume<MappingEnd>(out _))
        {
            YamlNode name = Value(parser, file, key, depth + 1, ref values, problems);
            if (name is not YamlText text)
            {
                throw new BriefException([new(file, name.Line, name.Column, key, string.Empty, "a key must be a plain word")]);
            }

            string path = key.Length == 0 ? text.Value : $"{key}.{text.Value}";
            YamlNode value = Value(parser, file, path, depth + 1, ref values, problems);
            if (seen.TryGetValue(text.Value, out long first))
            {
                problems.Add(new(file, text.Line, text.Column, path, string.Empty, $"the key stands twice, first on line {first}; keep one"));
                continue;
            }

            seen.Add(text.Value, text.Line);
            entries.Add((text, value));
        }

        return new(entries, line, column);
    }
}
