using Google.Protobuf;
using Grpc.Core;
using PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Client.Conforming;

/// <summary>Streams files to the conform service and puts its answers together.</summary>
/// <param name="client">The service.</param>
public sealed class ConformCalls(ConformService.ConformServiceClient client)
{
    /// <summary>Matches a cut with an inventory.</summary>
    /// <param name="settings">How.</param>
    /// <param name="cut">The cut.</param>
    /// <param name="oldCut">An older cut to compare with, or null.</param>
    /// <param name="inventory">The inventory, CSV.</param>
    /// <param name="cancellationToken">Ends the call.</param>
    public async Task<ConformAnswer> ConformAsync(
        ConformSettings settings, Stream cut, Stream? oldCut, Stream inventory, CancellationToken cancellationToken = default)
    {
        using AsyncDuplexStreamingCall<ConformCutRequest, ConformCutResponse> call = client.ConformCut(cancellationToken: cancellationToken);
        Task<ConformAnswer> answer = CollectAsync(call.ResponseStream, cancellationToken);
        try
        {
            await call.RequestStream.WriteAsync(new() { Settings = settings }, cancellationToken).ConfigureAwait(false);
            await SendAsync(call.RequestStream, cut, piece => new ConformCutRequest { Cut = piece }, cancellationToken).ConfigureAwait(false);
            if (oldCut is not null)
            {
                await SendAsync(call.RequestStream, oldCut, piece => new ConformCutRequest { OldCut = piece }, cancellationToken).ConfigureAwait(false);
            }

            await SendAsync(call.RequestStream, inventory, piece => new ConformCutRequest { Inventory = piece }, cancellationToken).ConfigureAwait(false);
            await call.RequestStream.CompleteAsync().ConfigureAwait(false);
        }
        catch (Exception) when (answer.IsCompleted || !cancellationToken.IsCancellationRequested)
        {
            // A service that refuses stops listening; its answer says why.
            await answer.ConfigureAwait(false);
            throw;
        }

        return await answer.ConfigureAwait(false);
    }

    /// <summary>Checks media against a plan and a hash manifest.</summary>
    /// <param name="settings">How.</param>
    /// <param name="media">The list of media, CSV.</param>
    /// <param name="plan">The plan, CSV, or null.</param>
    /// <param name="manifest">The manifest, or null.</param>
    /// <param name="files">Files that are there, for the manifest.</param>
    /// <param name="cancellationToken">Ends the call.</param>
    public async Task<CheckMediaResponse> CheckMediaAsync(
        CheckMediaSettings settings, Stream media, Stream? plan, Stream? manifest, IReadOnlyList<FoundFile> files, CancellationToken cancellationToken = default)
    {
        using AsyncClientStreamingCall<CheckMediaRequest, CheckMediaResponse> call = client.CheckMedia(cancellationToken: cancellationToken);
        try
        {
            await call.RequestStream.WriteAsync(new() { Settings = settings }, cancellationToken).ConfigureAwait(false);
            await SendAsync(call.RequestStream, media, piece => new CheckMediaRequest { Media = piece }, cancellationToken).ConfigureAwait(false);
            if (plan is not null)
            {
                await SendAsync(call.RequestStream, plan, piece => new CheckMediaRequest { Plan = piece }, cancellationToken).ConfigureAwait(false);
            }

            if (manifest is not null)
            {
                await SendAsync(call.RequestStream, manifest, piece => new CheckMediaRequest { Manifest = piece }, cancellationToken).ConfigureAwait(false);
            }

            foreach (FoundFile[] some in files.Chunk(FilePieces.MostLines))
            {
                await call.RequestStream.WriteAsync(new() { Files = new() { Files = { some } } }, cancellationToken).ConfigureAwait(false);
            }

            await call.RequestStream.CompleteAsync().ConfigureAwait(false);
        }
        catch (Exception) when (!cancellationToken.IsCancellationRequested)
        {
            // A service that refuses stops listening; its answer says why.
            await call.ResponseAsync.ConfigureAwait(false);
            throw;
        }

        return await call.ResponseAsync.ConfigureAwait(false);
    }

    private static async Task SendAsync<T>(IClientStreamWriter<T> stream, Stream file, Func<ByteString, T> message, CancellationToken cancellationToken)
    {
        await foreach (ByteString piece in FilePieces.OfAsync(file, cancellationToken).ConfigureAwait(false))
        {
            await stream.WriteAsync(message(piece), cancellationToken).ConfigureAwait(false);
        }
    }

    private static async Task<ConformAnswer> CollectAsync(IAsyncStreamReader<ConformCutResponse> stream, CancellationToken cancellationToken)
    {
        List<FileProblem> problems = [];
        List<EventRow> events = [];
        List<PullRow> pull = [];
        List<ChangeRow> changes = [];
        Dictionary<string, MemoryStream> files = [];
        ConformSummary summary = new();
        while (await stream.MoveNext(cancellationToken).ConfigureAwait(false))
        {
            ConformCutResponse part = stream.Current;
            switch (part.PartCase)
            {
                case ConformCutResponse.PartOneofCase.Problems:
                    problems.AddRange(part.Problems.Problems);
                    break;
                case ConformCutResponse.PartOneofCase.Summary:
                    summary = part.Summary;
                    break;
                case ConformCutResponse.PartOneofCase.Events:
                    events.AddRange(part.Events.Events);
                    break;
                case ConformCutResponse.PartOneofCase.Pull:
                    pull.AddRange(part.Pull.Ranges);
                    break;
                case ConformCutResponse.PartOneofCase.Changes:
                    changes.AddRange(part.Changes.Changes);
                    break;
                case ConformCutResponse.PartOneofCase.File:
                    if (!files.TryGetValue(part.File.Name, out MemoryStream? content))
                    {
                        files.Add(part.File.Name, content = new());
                    }

                    part.File.Piece.WriteTo(content);
                    break;
                default:
                    // A newer service may say more; what is not known here is not needed here.
                    break;
            }
        }

        return new(problems, summary, events, pull, changes, files.ToDictionary(file => file.Key, file => file.Value.ToArray()));
    }
}
