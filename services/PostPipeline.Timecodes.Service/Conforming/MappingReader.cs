using System.Collections.Immutable;
using PostPipeline.Hosting.Validation;
using PostPipeline.Timecodes.Inventories;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>Reads a mapping of headers.</summary>
internal static class MappingReader
{
    private const int MostColumns = 100;
    private const int MostWords = 1_000;

    public static InventoryMapping Read(FieldPath field, Wire.InventoryMapping? mapping, Violations violations)
    {
        if (mapping is null)
        {
            return InventoryMapping.None;
        }

        violations.Count(field["columns"], mapping.Columns.Count, 0, MostColumns);
        violations.Count(field["constants"], mapping.Constants.Count, 0, MostColumns);
        violations.Count(field["words"], mapping.Words.Count, 0, MostWords);
        ImmutableDictionary<string, InventoryColumn>.Builder columns = ImmutableDictionary.CreateBuilder<string, InventoryColumn>(StringComparer.OrdinalIgnoreCase);
        foreach ((string header, string name) in mapping.Columns)
        {
            if (Column(field["columns"], name, violations) is { } column)
            {
                columns[header] = column;
            }
        }

        ImmutableDictionary<InventoryColumn, string>.Builder constants = ImmutableDictionary.CreateBuilder<InventoryColumn, string>();
        foreach ((string name, string value) in mapping.Constants)
        {
            if (Column(field["constants"], name, violations) is { } column)
            {
                constants[column] = value;
            }
        }

        Dictionary<InventoryColumn, ImmutableDictionary<string, string>> words = [];
        foreach (Wire.WordMapping word in mapping.Words)
        {
            if (Column(field["words"], word.Column, violations) is { } column)
            {
                words[column] = words.GetValueOrDefault(column, ImmutableDictionary<string, string>.Empty).SetItem(word.Word, word.Meaning);
            }
        }

        return new() { Columns = columns.ToImmutable(), Constants = constants.ToImmutable(), Words = words.ToImmutableDictionary() };
    }

    private static InventoryColumn? Column(FieldPath field, string name, Violations violations)
    {
        bool known = InventoryMapping.TryParseColumn(name, out InventoryColumn column);
        violations.Require(field, known, $"names the column '{name}'; allowed are {string.Join(", ", InventoryMapping.DocumentedHeaders)}");
        return known ? column : null;
    }
}
