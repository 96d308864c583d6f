using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Benchmarks;

/// <summary>Streams benchmark rows to the rendering service.</summary>
public static class BenchmarkUpload
{
    private const int RowsInAMessage = 500;

    /// <summary>Imports the rows of a file, all or nothing. The service counts rows; people look for a line of their file.</summary>
    /// <param name="client">The service.</param>
    /// <param name="header">What applies to all rows.</param>
    /// <param name="file">The file, whose columns the header has.</param>
    /// <param name="cancellation">Gives up; nothing is kept then.</param>
    /// <exception cref="BriefException">Rows were refused: each with its line and column.</exception>
    public static async Task<ImportBenchmarksResponse> ImportAsync(
        BenchmarkService.BenchmarkServiceClient client, BenchmarkHeader header, RowFile file, CancellationToken cancellation)
    {
        try
        {
            return await ImportAsync(client, header, file.Rows().Select(r => (IReadOnlyList<string>)r.Cells), cancellation).ConfigureAwait(false);
        }
        catch (ServiceCallException refused) when (refused.Violations.Any(v => v.Field.StartsWith("rows[", StringComparison.Ordinal)))
        {
            throw new BriefException([.. file.Problems("rows", refused.Violations)]);
        }
    }

    /// <summary>Imports rows, all or nothing.</summary>
    /// <param name="client">The service.</param>
    /// <param name="header">What applies to all rows.</param>
    /// <param name="rows">The cells of each row, in the header's columns.</param>
    /// <param name="cancellation">Gives up; nothing is kept then.</param>
    public static async Task<ImportBenchmarksResponse> ImportAsync(
        BenchmarkService.BenchmarkServiceClient client, BenchmarkHeader header, IEnumerable<IReadOnlyList<string>> rows, CancellationToken cancellation)
    {
        using AsyncClientStreamingCall<ImportBenchmarksRequest, ImportBenchmarksResponse> call = client.ImportBenchmarks(cancellationToken: cancellation);
        try
        {
            await call.RequestStream.WriteAsync(new() { Header = header }, cancellation).ConfigureAwait(false);
            foreach (IReadOnlyList<string>[] some in rows.Chunk(RowsInAMessage))
            {
                BenchmarkRows message = new();
                foreach (IReadOnlyList<string> cells in some)
                {
                    BenchmarkRow row = new();
                    row.Cells.AddRange(cells);
                    message.Rows.Add(row);
                }

                await call.RequestStream.WriteAsync(new() { Rows = message }, cancellation).ConfigureAwait(false);
            }

            await call.RequestStream.CompleteAsync().ConfigureAwait(false);
        }
        catch (Exception broken) when (broken is RpcException or InvalidOperationException)
        {
            // The service ended the call early; its answer below says why.
        }

        return await call.ResponseAsync.ConfigureAwait(false);
    }
}
