using System.Collections.Immutable;
using Google.Protobuf.Collections;
using Grpc.Core;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Hosting.Failures;
using PostPipeline.Hosting.Validation;
using PostPipeline.RenderTimes;
using PostPipeline.RenderTimes.FarmLogs;

namespace PostPipeline.Rendering.Service.RenderTimes;

/// <summary>Imports, lists, exports and deletes benchmark sets.</summary>
/// <param name="store">Where they are kept.</param>
public sealed class BenchmarkGrpcService(IBenchmarkStore store) : BenchmarkService.BenchmarkServiceBase
{
    /// <summary>Rows in one message at most.</summary>
    public const int RowsPerMessage = 1_000;

    /// <inheritdoc/>
    public override async Task<ImportBenchmarksResponse> ImportBenchmarks(
        IAsyncStreamReader<ImportBenchmarksRequest> requestStream, ServerCallContext context)
    {
        if (!await requestStream.MoveNext(context.CancellationToken) || requestStream.Current.Header is not BenchmarkHeader header)
        {
            throw Invalid("header", "is not set; the header comes first");
        }

        TableSchema schema = header.ToSchema();
        ImmutableArray<RowViolation> wrong = schema.Violations();
        if (header.Name.Length is 0 or > TableSchema.MaximumCellLength)
        {
            wrong = wrong.Add(new("name", $"has {header.Name.Length} characters; allowed is 1 to {TableSchema.MaximumCellLength}"));
        }

        if (wrong.Length > 0)
        {
            throw wrong.Select(v => v with { Field = $"header.{v.Field}" }).ToArray().ToException();
        }

        using IBenchmarkImport import = WhenFree(() => store.BeginImport(header.Name, schema, header.Invented));
        int rows = 0;
        while (await requestStream.MoveNext(context.CancellationToken))
        {
            if (requestStream.Current.Rows is not BenchmarkRows part)
            {
                throw Invalid("rows", "is not set; after the header come rows");
            }

            if (part.Rows.Count > RowsPerMessage)
            {
                throw Invalid("rows.rows", $"has {part.Rows.Count} entries; allowed is 0 to {RowsPerMessage} a message");
            }

            foreach (BenchmarkRow row in part.Rows)
            {
                import.Add(row.Cells);
                rows++;
            }

            if (import.Violations.Count >= BenchmarkTableBuilder.MaximumViolations)
            {
                break;
            }
        }

        if (import.Violations.Count > 0)
        {
            throw import.Violations.ToException();
        }

        if (rows == 0)
        {
            throw Invalid("rows", "has no entries; a set has 1 row or more");
        }

        context.CancellationToken.ThrowIfCancellationRequested();
        BenchmarkSetInfo info = import.Commit();
        return new() { SetId = info.Id, Rows = info.Rows, Families = info.Families };
    }

    /// <inheritdoc/>
    public override Task<ListBenchmarksResponse> ListBenchmarks(ListBenchmarksRequest request, ServerCallContext context)
    {
        (int skip, int size) = Paging.Read(request.PageSize, request.PageToken);
        ImmutableArray<BenchmarkSetInfo> all = store.List();
        ListBenchmarksResponse response = new() { NextPageToken = Paging.Next(skip, size, all.Length) };
        response.Sets.AddRange(all.Skip(skip).Take(size).Select(s => s.ToSummary()));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override async Task ExportBenchmarks(
        ExportBenchmarksRequest request, IServerStreamWriter<ExportBenchmarksResponse> responseStream, ServerCallContext context)
    {
        BenchmarkSetInfo info = store.Find(request.SetId) ?? throw NotFound(request.SetId);
        await responseStream.WriteAsync(new() { Header = info.ToHeader() }, context.CancellationToken);
        foreach (ImmutableArray<string>[] chunk in store.ReadRows(info.Id).Chunk(RowsPerMessage))
        {
            BenchmarkRows rows = new();
            foreach (ImmutableArray<string> cells in chunk)
            {
                BenchmarkRow row = new();
                row.Cells.AddRange(cells);
                rows.Rows.Add(row);
            }

            await responseStream.WriteAsync(new() { Rows = rows }, context.CancellationToken);
        }
    }

    /// <inheritdoc/>
    public override Task<DeleteBenchmarksResponse> DeleteBenchmarks(DeleteBenchmarksRequest request, ServerCallContext context) =>
        WhenFree(() => store.Delete(request.SetId)) ? Task.FromResult(new DeleteBenchmarksResponse()) : throw NotFound(request.SetId);

    /// <inheritdoc/>
    public override async Task<SummarizeFarmLogResponse> SummarizeFarmLog(
        IAsyncStreamReader<SummarizeFarmLogRequest> requestStream, ServerCallContext context)
    {
        if (!await requestStream.MoveNext(context.CancellationToken) || requestStream.Current.Clock is not FarmLogClock clock)
        {
            throw Invalid("clock", "is not set; the clock comes first");
        }

        Violations violations = new();
        violations.InRange("clock.offset_minutes", clock.OffsetMinutes, -840, 840);
        List<FarmLogEntry> entries = [];
        while (violations.Total < Violations.MaximumListed && await requestStream.MoveNext(context.CancellationToken))
        {
            RepeatedField<FarmLogAttempt> attempts = requestStream.Current.Attempts?.Attempts ?? throw Invalid("attempts", "is not set; after the clock come attempts");
            violations.Count("attempts.attempts", attempts.Count, 0, RowsPerMessage);
            foreach (FarmLogAttempt attempt in attempts)
            {
                FieldPath path = FieldPath.Of("attempts")[entries.Count];
                FarmLogEntry entry = attempt.ToEntry();
                violations.Specified(path["state"], attempt.State);
                if (entry.Violation() is RowViolation wrong)
                {
                    violations.Add(path[wrong.Field], wrong.Description);
                }

                entries.Add(entry);
            }

            violations.Count("attempts", entries.Count, 0, FarmLogReader.MaximumAttempts);
        }

        violations.Require("attempts", entries.Count > 0, "has no entries; a log has 1 attempt or more");
        violations.ThrowIfAny();
        return FarmLogReader.Summarize(entries, clock.OffsetMinutes, context.CancellationToken).ToResponse();
    }

    internal static ServiceFailureException NotFound(string setId) => ServiceFailureException.NotFound("benchmark set", setId);

    internal static T WhenFree<T>(Func<T> write)
    {
        try
        {
            return write();
        }
        catch (StoreInUseException busy)
        {
            throw ServiceFailureException.Overloaded(busy.Message, TimeSpan.FromSeconds(5));
        }
    }

    private static InvalidRequestException Invalid(string field, string problem) => new([new(field, problem)], 1);
}
