namespace PostPipeline.Studies.Briefs;

/// <summary>A value of a YAML file with its place: a text, a list or a map. Lines and columns count from 1.</summary>
internal abstract record YamlNode(long Line, long Column);

/// <summary>A plain or quoted text.</summary>
internal sealed record YamlText(string Value, bool Quoted, long Line, long Column) : YamlNode(Line, Column);

/// <summary>A list.</summary>
internal sealed record YamlList(IReadOnlyList<YamlNode> Items, long Line, long Column) : YamlNode(Line, Column);

/// <summary>A map in the order of the file.</summary>
internal sealed record YamlMap(IReadOnlyList<(YamlText Key, YamlNode Value)> Entries, long Line, long Column) : YamlNode(Line, Column);
