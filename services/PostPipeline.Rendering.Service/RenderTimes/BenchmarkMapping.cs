using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Hosting.Validation;
using PostPipeline.RenderTimes;

namespace PostPipeline.Rendering.Service.RenderTimes;

/// <summary>Between the contract's messages and the domain's benchmark sets.</summary>
internal static class BenchmarkMapping
{
    public static TableSchema ToSchema(this BenchmarkHeader header) => new(
        [.. header.Columns], header.TargetColumn, header.FramesColumn, header.FamilyColumn, [.. header.CategoryColumns], [.. header.NumberColumns]);

    public static BenchmarkHeader ToHeader(this BenchmarkSetInfo info)
    {
        BenchmarkHeader header = new()
        {
            Name = info.Name,
            Invented = info.Invented,
            TargetColumn = info.Schema.TargetColumn,
            FramesColumn = info.Schema.FramesColumn,
            FamilyColumn = info.Schema.FamilyColumn,
        };
        header.Columns.AddRange(info.Schema.Columns);
        header.CategoryColumns.AddRange(info.Schema.CategoryColumns);
        header.NumberColumns.AddRange(info.Schema.NumberColumns);
        return header;
    }

    public static BenchmarkSetSummary ToSummary(this BenchmarkSetInfo info) =>
        new() { SetId = info.Id, Header = info.ToHeader(), Rows = info.Rows, Families = info.Families };

    public static InvalidRequestException ToException(this IReadOnlyList<RowViolation> violations) => new(
        [.. violations.Take(Violations.MaximumListed).Select(v => new Violation(v.Field, v.Description))], violations.Count);
}
