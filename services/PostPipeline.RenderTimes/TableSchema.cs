using System.Collections.Immutable;

namespace PostPipeline.RenderTimes;

/// <summary>
/// What the columns of a table of measurements are for. Nothing about a column's name is wired in: any table with
/// a measured time, a family and some features can be learned from.
/// </summary>
/// <param name="Columns">All columns in the order of the cells.</param>
/// <param name="TargetColumn">Seconds, or seconds per frame where <paramref name="FramesColumn"/> is empty.</param>
/// <param name="FramesColumn">What the target is divided by; empty where it already is seconds per frame.</param>
/// <param name="FamilyColumn">The project or clip whose rows belong together and are held out whole.</param>
/// <param name="CategoryColumns">Features that are names.</param>
/// <param name="NumberColumns">Features that are numbers; an empty cell is a missing value.</param>
public sealed record TableSchema(
    ImmutableArray<string> Columns,
    string TargetColumn,
    string FramesColumn,
    string FamilyColumn,
    ImmutableArray<string> CategoryColumns,
    ImmutableArray<string> NumberColumns)
{
    /// <summary>The most columns a table may have.</summary>
    public const int MaximumColumns = 200;

    /// <summary>The longest column name or cell, in characters.</summary>
    public const int MaximumCellLength = 200;

    /// <summary>All that is wrong with the schema; empty where nothing is.</summary>
    public ImmutableArray<RowViolation> Violations()
    {
        ImmutableArray<RowViolation>.Builder found = ImmutableArray.CreateBuilder<RowViolation>();
        if (Columns.Length is < 2 or > MaximumColumns)
        {
            found.Add(new("columns", $"there are {Columns.Length} columns; allowed is 2 to {MaximumColumns}"));
        }

        foreach (IGrouping<string, string> name in Columns.GroupBy(c => c, StringComparer.Ordinal))
        {
            if (name.Key.Length is 0 or > MaximumCellLength || name.Count() > 1)
            {
                found.Add(new("columns", $"'{name.Key}' stands {name.Count()} times; a name has 1 to {MaximumCellLength} characters and stands once"));
            }
        }

        Require(found, "target_column", TargetColumn);
        Require(found, "family_column", FamilyColumn);
        if (FramesColumn.Length > 0)
        {
            Require(found, "frames_column", FramesColumn);
        }

        foreach ((string path, ImmutableArray<string> names) in new[] { ("category_columns", CategoryColumns), ("number_columns", NumberColumns) })
        {
            for (int i = 0; i < names.Length; i++)
            {
                Require(found, $"{path}[{i}]", names[i]);
                if (names[i] == TargetColumn || names[i] == FamilyColumn)
                {
                    found.Add(new($"{path}[{i}]", $"'{names[i]}' is the target or the family and cannot be a feature as well"));
                }
            }
        }

        foreach (string both in CategoryColumns.Concat(NumberColumns).GroupBy(c => c, StringComparer.Ordinal).Where(g => g.Count() > 1).Select(g => g.Key))
        {
            found.Add(new("number_columns", $"'{both}' is named as a feature more than once"));
        }

        if (CategoryColumns.Length + NumberColumns.Length == 0)
        {
            found.Add(new("number_columns", "there is no feature; name at least one category or number column"));
        }

        return found.ToImmutable();
    }

    private void Require(ImmutableArray<RowViolation>.Builder found, string path, string column)
    {
        if (!Columns.Contains(column, StringComparer.Ordinal))
        {
            found.Add(new(path, $"'{column}' is not one of the columns"));
        }
    }
}
