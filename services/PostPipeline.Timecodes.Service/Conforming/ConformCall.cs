using System.Text;
using Google.Protobuf;
using Grpc.Core;
using PostPipeline.Hosting.Validation;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.Timelines;
using Types = PostPipeline.Contracts.Types.V1;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>One conform: collects the files of a stream, matches, and writes the answer in parts.</summary>
internal sealed class ConformCall
{
    private const int MostCutBytes = 64 << 20;

    private readonly ConformJob job;
    private readonly ByteCollector cut = new("cut", MostCutBytes);
    private readonly ByteCollector oldCut = new("old_cut", MostCutBytes);
    private readonly InventoryReader inventory;

    public ConformCall(Wire.ConformSettings settings)
    {
        job = ConformJob.Read(settings);
        inventory = new(new() { Mapping = job.Mapping });
    }

    public void Take(Wire.ConformCutRequest request)
    {
        switch (request.PartCase)
        {
            case Wire.ConformCutRequest.PartOneofCase.Cut:
                cut.Take(request.Cut);
                break;
            case Wire.ConformCutRequest.PartOneofCase.OldCut:
                oldCut.Take(request.OldCut);
                break;
            case Wire.ConformCutRequest.PartOneofCase.Inventory:
                // Rows go into columns as they come; the text of the inventory is never held.
                ByteCollector.CheckPiece("inventory", request.Inventory);
                inventory.Append(request.Inventory.Span);
                break;
            default:
                throw new InvalidRequestException([new("part", "is not a piece of a file; settings come once, first")], 1);
        }
    }

    public async Task AnswerAsync(IServerStreamWriter<Wire.ConformCutResponse> stream, CancellationToken cancellationToken)
    {
        ProblemList problems = new();
        CutReader now = CutReader.Read(cut.Bytes, job, Wire.ConformFile.Cut, problems, cancellationToken);
        CutReader? before = oldCut.HasAny ? CutReader.Read(oldCut.Bytes, job, Wire.ConformFile.OldCut, problems, cancellationToken) : null;
        InventoryReading clips = inventory.Finish();
        problems.Add(Wire.ConformFile.Inventory, clips.Problems);
        foreach (Wire.FileProblem[] some in problems.Listed.Chunk(ConformGrpcService.RowsPerMessage))
        {
            await stream.WriteAsync(new() { Problems = new() { Problems = { some } } }, cancellationToken);
        }

        Wire.ConformSummary summary = Summary(now, clips);
        if (problems.HasErrors || now.Cut is null || (before is not null && before.Cut is null))
        {
            summary.Refused = true;
            await stream.WriteAsync(new() { Summary = summary }, cancellationToken);
            return;
        }

        await AnswerMatchedAsync(stream, summary, now.Cut, before?.Cut, clips.Inventory, cancellationToken);
    }

    private async Task AnswerMatchedAsync(
        IServerStreamWriter<Wire.ConformCutResponse> stream, Wire.ConformSummary summary, Cut now, Cut? before, Inventory clips, CancellationToken cancellationToken)
    {
        Conformer conformer = new(clips, job.Options);
        ConformResult result = conformer.Match(now, cancellationToken);
        PullList? pull = job.Pull is null ? null : PullList.Of(result, job.Pull);
        CutDifference? difference = before is null ? null : CutDifference.Of(before, now, cancellationToken);
        AddCounts(summary, result, ProxyPairing.Of(clips));
        PullList? toFetch = pull;
        if (pull is not null)
        {
            summary.PullPlanned = ConformMapping.ToWire(pull.Planned);
            summary.PullIfTrimmed = ConformMapping.ToWire(pull.IfTrimmed);
            summary.PullIfWhole = ConformMapping.ToWire(pull.IfWhole);
            summary.EventsLeftOut = pull.EventsLeftOut;
        }

        if (difference is not null)
        {
            summary.Difference = Difference(difference);
            if (pull is not null)
            {
                PullDifference fetch = PullDifference.Of(PullList.Of(conformer.Match(before!, cancellationToken), job.Pull), pull);
                summary.Difference.ToFetch = ConformMapping.ToWire(fetch.ToFetch.Planned);
                summary.Difference.AlreadyOnline = ConformMapping.ToWire(fetch.AlreadyOnline);
                summary.Difference.NoLongerNeeded = ConformMapping.ToWire(fetch.NoLongerNeeded);
                toFetch = fetch.ToFetch;
            }
        }

        summary.Media.AddRange(toFetch?.Media.Take(ConformGrpcService.RowsPerMessage) ?? []);
        await stream.WriteAsync(new() { Summary = summary }, cancellationToken);
        foreach (EventMatch[] some in result.Matches.Where(match => job.AllEvents || match.NeedsPerson).Chunk(ConformGrpcService.RowsPerMessage))
        {
            await stream.WriteAsync(new() { Events = new() { Events = { some.Select(match => ConformMapping.ToWire(match, now, clips)) } } }, cancellationToken);
        }

        foreach (ChangedEvent[] some in (difference?.Events ?? []).Where(e => e.Change != CutChange.Unchanged || e.TransitionChanged).Chunk(ConformGrpcService.RowsPerMessage))
        {
            await stream.WriteAsync(new() { Changes = new() { Changes = { some.Select(changed => ConformMapping.ToWire(changed, difference!)) } } }, cancellationToken);
        }

        if (toFetch is not null)
        {
            await WritePullAsync(stream, toFetch, now, cancellationToken);
        }
    }

    private async Task WritePullAsync(IServerStreamWriter<Wire.ConformCutResponse> stream, PullList pull, Cut now, CancellationToken cancellationToken)
    {
        foreach (PullRange[] some in pull.Ranges.Chunk(ConformGrpcService.RowsPerMessage))
        {
            await stream.WriteAsync(new() { Pull = new() { Ranges = { some.Select(range => ConformMapping.ToWire(range, pull.Inventory)) } } }, cancellationToken);
        }

        foreach (Wire.PullFormat format in job.PullFormats)
        {
            foreach ((string name, byte[] content) in Files(format, pull, now))
            {
                for (int at = 0; at < Math.Max(1, content.Length); at += ByteCollector.MostPieceBytes)
                {
                    int length = Math.Min(ByteCollector.MostPieceBytes, content.Length - at);
                    await stream.WriteAsync(new() { File = new() { Name = name, Piece = ByteString.CopyFrom(content, at, length) } }, cancellationToken);
                }
            }
        }
    }

    private static IEnumerable<(string Name, byte[] Content)> Files(Wire.PullFormat format, PullList pull, Cut now)
    {
        string title = now.Title.Length > 0 ? $"{now.Title} PULL" : "PULL";
        switch (format)
        {
            case Wire.PullFormat.Csv:
                yield return ("pull.csv", Encoding.UTF8.GetBytes(PullListWriter.ToCsv(pull)));
                break;
            case Wire.PullFormat.Timeline:
                yield return ("pull.otio", TimelineWriter.FromPullList(pull, title, now.RecordFormat.Rate));
                break;
            default:
                foreach ((TimecodeFormat own, EditList list) in PullListWriter.ToEditLists(pull, title))
                {
                    string rate = own.Rate.ToString().Replace('/', '-');
                    yield return ($"pull-{rate}{(own.DropFrame ? "-drop" : string.Empty)}.edl", EditListWriter.ToUtf8(list));
                }

                break;
        }
    }

    private static Wire.ConformSummary Summary(CutReader now, InventoryReading clips)
    {
        Wire.ConformSummary summary = new()
        {
            Title = now.Cut?.Title ?? now.Timeline?.Name ?? string.Empty,
            Events = now.Cut?.Events.Length ?? 0,
            Clips = clips.Inventory.Count,
            ChunkedTakes = clips.Inventory.Takes.Length,
            IncompleteTakes = clips.Inventory.Takes.Count(take => !take.MissingChunks.IsEmpty),
            UnmappedHeaders = { clips.UnmappedHeaders },
        };
        foreach (Quantities.FrameRate rate in now.Numbers?.UsualRatesAllowed ?? [])
        {
            summary.RatesAllowed.Add(new Types.FrameRate { Numerator = rate.Numerator, Denominator = rate.Denominator });
        }

        summary.RecordGapFrames = now.Cut?.RecordGaps().Sum(gap => Math.Max(0, gap.Frames)) ?? 0;
        summary.Nested.AddRange(now.Timeline?.Nested.Take(ConformGrpcService.RowsPerMessage) ?? []);
        summary.UnknownSchemas.AddRange(now.Timeline?.UnknownSchemas.Take(ConformGrpcService.RowsPerMessage) ?? []);
        return summary;
    }

    private static void AddCounts(Wire.ConformSummary summary, ConformResult result, ProxyPairing pairing)
    {
        summary.EventsForPerson = result.EventsForPerson;
        summary.Proxies = pairing.Pairs.Length;
        summary.ProxiesThatServe = pairing.Pairs.Count(pair => pair.Serves);
        summary.OriginalsWithoutProxy = pairing.OriginalsWithoutProxy.Length;
        foreach (ConformClass value in Enum.GetValues<ConformClass>())
        {
            int events = result.Count(value);
            if (events > 0)
            {
                summary.Classes.Add(new Wire.ClassCount { Class = ConformMapping.ToWire(value), Description = ConformAdvice.Describe(value), Events = events });
            }
        }
    }

    private static Wire.DifferenceSummary Difference(CutDifference difference) => new()
    {
        Unchanged = difference.Count(CutChange.Unchanged),
        Moved = difference.Count(CutChange.Moved),
        Reordered = difference.Events.Count(e => e.Change == CutChange.Moved && !e.KeepsOrder),
        Trimmed = difference.Count(CutChange.Trimmed),
        Retimed = difference.Count(CutChange.Retimed),
        Added = difference.Count(CutChange.Added),
        Removed = difference.Count(CutChange.Removed),
        FramesToRender = difference.FramesToRender,
        FramesFromFirstChange = difference.FramesFromFirstChange,
    };
}
