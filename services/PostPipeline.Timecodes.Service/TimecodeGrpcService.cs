using Google.Protobuf.Collections;
using Grpc.Core;
using PostPipeline.Hosting.Validation;
using PostPipeline.Timecodes.Generators;
using PostPipeline.Timecodes.OffSpeed;
using PostPipeline.Timecodes.Service.Labelling;
using PostPipeline.Timecodes.Synchronization;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service;

/// <summary>Labels and what can be computed with them: maps requests in, calls the domain, maps answers out.</summary>
public sealed class TimecodeGrpcService : Wire.TimecodeService.TimecodeServiceBase
{
    private const int MostOffSpeedQueries = 1000;
    private const int MostFormats = 1000;
    private const int ClipsPerMessage = 1000;

    /// <inheritdoc/>
    public override Task<Wire.FormatLabelsResponse> FormatLabels(Wire.FormatLabelsRequest request, ServerCallContext context)
    {
        Violations violations = new();
        LabelReader reader = new(violations);
        TimecodeFormat? format = reader.Format("format", request.Format);
        SuperFrameFormat? grouping = reader.Grouping(request.HasFramesPerSuperFrame, request.FramesPerSuperFrame, format);
        violations.Count("frame_indices", request.FrameIndices.Count, 0, LabelReader.MostItems);
        violations.ThrowIfAny();
        return Task.FromResult(new Wire.FormatLabelsResponse
        {
            LabelWidth = grouping?.LabelLength ?? format!.LabelLength,
            Labels = grouping is null ? LabelRows.Write(format!, [.. request.FrameIndices]) : LabelRows.Write(grouping, request.FrameIndices),
        });
    }

    /// <inheritdoc/>
    public override Task<Wire.ParseLabelsResponse> ParseLabels(Wire.ParseLabelsRequest request, ServerCallContext context)
    {
        Violations violations = new();
        LabelReader reader = new(violations);
        TimecodeFormat? format = reader.Format("format", request.Format);
        SuperFrameFormat? grouping = reader.Grouping(request.HasFramesPerSuperFrame, request.FramesPerSuperFrame, format);
        reader.Rows("labels", request.Labels, request.LabelWidth);
        violations.ThrowIfAny();
        Wire.ParseLabelsResponse response = new();
        response.FrameIndices.AddRange(grouping is null
            ? LabelRows.Read(format!, request.Labels, request.LabelWidth, request.SnapDroppedForward, "labels", response.Errors)
            : LabelRows.Read(grouping, request.Labels, request.LabelWidth, request.SnapDroppedForward, "labels", response.Errors));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<Wire.DescribeFormatsResponse> DescribeFormats(Wire.DescribeFormatsRequest request, ServerCallContext context)
    {
        CountItems("formats", request.Formats.Count, MostFormats);
        return Task.FromResult(new Wire.DescribeFormatsResponse
        {
            Outcomes =
            {
                request.Formats.Select(message => Items.Answer(
                    violations => new LabelReader(violations).Format("format", message) is { } format ? LabelWriter.Write(format) : null,
                    description => new Wire.FormatOutcome { Description = description },
                    error => new() { Error = error })),
            },
        });
    }

    /// <inheritdoc/>
    public override Task<Wire.AddFramesResponse> AddFrames(Wire.AddFramesRequest request, ServerCallContext context)
    {
        Violations violations = new();
        LabelReader reader = new(violations);
        TimecodeFormat? format = reader.Format("format", request.Format);
        int rows = reader.Rows("labels", request.Labels, request.LabelWidth);
        violations.Require("frames", request.Frames.Count == 1 || request.Frames.Count == rows, $"has {request.Frames.Count} entries; allowed is 1, or {rows} as there are labels");
        violations.ThrowIfAny();
        Wire.AddFramesResponse response = new() { LabelWidth = format!.LabelLength };
        long[] indexes = LabelRows.Read(format, request.Labels, request.LabelWidth, request.SnapDroppedForward, "labels", response.Errors);
        for (int i = 0; i < indexes.Length; i++)
        {
            long frames = request.Frames[request.Frames.Count == 1 ? 0 : i];
            indexes[i] = indexes[i] == LabelBatch.NoFrame ? LabelBatch.NoFrame : (Timecode.FromFrames(indexes[i], format) + frames).FrameIndex;
        }

        response.Labels = LabelRows.WriteKnown(format, indexes);
        response.FrameIndices.AddRange(indexes);
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<Wire.MeasureDurationsResponse> MeasureDurations(Wire.MeasureDurationsRequest request, ServerCallContext context)
    {
        Violations violations = new();
        LabelReader reader = new(violations);
        TimecodeFormat? format = reader.Format("format", request.Format);
        int rows = reader.Rows("start_labels", request.StartLabels, request.LabelWidth);
        int ends = reader.Rows("end_labels", request.EndLabels, request.LabelWidth);
        violations.Require("end_labels", rows == ends, $"has {ends} labels; allowed is {rows}, as many as start_labels");
        violations.ThrowIfAny();
        Wire.MeasureDurationsResponse response = new() { SecondsPerFrame = LabelWriter.Write(format!.Rate.SecondsPerFrame) };
        long[] from = LabelRows.Read(format, request.StartLabels, request.LabelWidth, request.SnapDroppedForward, "start_labels", response.Errors);
        RepeatedField<Wire.LabelError> endErrors = [];
        long[] until = LabelRows.Read(format, request.EndLabels, request.LabelWidth, request.SnapDroppedForward, "end_labels", endErrors);
        response.Errors.AddRange(endErrors.Where(error => from[error.Index] != LabelBatch.NoFrame));
        for (int i = 0; i < from.Length; i++)
        {
            bool known = from[i] != LabelBatch.NoFrame && until[i] != LabelBatch.NoFrame;
            response.FrameCounts.Add(known ? format.Wrap(until[i] - from[i]) : LabelBatch.NoFrame);

            // An end at label zero is midnight itself: the last frame still lies before it.
            response.CrossesMidnight.Add(known && until[i] < from[i] && until[i] > 0);
        }

        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<Wire.ConvertLabelsResponse> ConvertLabels(Wire.ConvertLabelsRequest request, ServerCallContext context) =>
        Task.FromResult(LabelConverting.Convert(request));

    /// <inheritdoc/>
    public override Task<Wire.FindLabelCollisionsResponse> FindLabelCollisions(Wire.FindLabelCollisionsRequest request, ServerCallContext context)
    {
        Violations violations = new();
        TimecodeFormat? format = new LabelReader(violations).Format("format", request.Format);
        violations.Count("takes", request.Takes.Count, 0, LabelReader.MostItems);
        violations.InRange("limit", request.Limit, 0, ShootingDays.MostCollisions);
        violations.ThrowIfAny();
        Wire.FindLabelCollisionsResponse response = new();
        List<LabelledTake> takes = [];
        List<int> places = [];
        for (int i = 0; i < request.Takes.Count; i++)
        {
            Violations wrong = new();
            if (new LabelReader(wrong).Span("labels", request.Takes[i].Labels, format) is { } labels)
            {
                takes.Add(new(request.Takes[i].Reel, labels));
                places.Add(i);
            }
            else
            {
                response.Errors.Add(new Wire.LabelError { Index = i, Field = $"takes[{i}].{wrong.Listed[0].Field}", Description = wrong.Listed[0].Problem });
            }
        }

        LabelCollisions collisions = LabelCollisions.Among(
            takes, request.Limit == 0 ? ShootingDays.MostCollisions : request.Limit, context.CancellationToken);
        response.Collisions.AddRange(collisions.Found.Select(collision => LabelWriter.Write(collision, places)));
        response.Complete = collisions.IsComplete;
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<Wire.MeasureDriftResponse> MeasureDrift(Wire.MeasureDriftRequest request, ServerCallContext context)
    {
        CountItems("queries", request.Queries.Count, LabelReader.MostItems);
        return Task.FromResult(new Wire.MeasureDriftResponse
        {
            Outcomes =
            {
                request.Queries.Select(query => Items.Answer(
                    violations =>
                    {
                        TimecodeFormat? format = new LabelReader(violations).Format("format", query.Format);
                        violations.InRange("frame_count", query.FrameCount, 0, TimecodeRange.MaximumFrames);
                        return violations.None ? LabelWriter.Write(ClockDrift.Over(format!, query.FrameCount)) : null;
                    },
                    drift => new Wire.DriftOutcome { Drift = drift },
                    error => new() { Error = error })),
            },
        });
    }

    /// <inheritdoc/>
    public override Task<Wire.MapOffSpeedResponse> MapOffSpeed(Wire.MapOffSpeedRequest request, ServerCallContext context)
    {
        CountItems("queries", request.Queries.Count, MostOffSpeedQueries);
        return Task.FromResult(new Wire.MapOffSpeedResponse
        {
            Outcomes =
            {
                request.Queries.Select(query => Items.Answer(
                    violations => OffSpeedMapping.Map(query, violations),
                    clip => new Wire.OffSpeedOutcome { Clip = clip },
                    error => new() { Error = error })),
            },
        });
    }

    /// <inheritdoc/>
    public override Task<Wire.BudgetJamSyncResponse> BudgetJamSync(Wire.BudgetJamSyncRequest request, ServerCallContext context)
    {
        CountItems("queries", request.Queries.Count, LabelReader.MostItems);
        return Task.FromResult(new Wire.BudgetJamSyncResponse
        {
            Outcomes =
            {
                request.Queries.Select(query => Items.Answer(
                    violations => JamSyncBudgeting.Budget(query, violations),
                    budget => new Wire.JamSyncOutcome { Budget = budget },
                    error => new() { Error = error })),
            },
        });
    }

    /// <inheritdoc/>
    public override Task<Wire.EncodeLtcWordsResponse> EncodeLtcWords(Wire.EncodeLtcWordsRequest request, ServerCallContext context) =>
        Task.FromResult(LtcWords.Encode(request));

    /// <inheritdoc/>
    public override Task<Wire.DecodeLtcWordsResponse> DecodeLtcWords(Wire.DecodeLtcWordsRequest request, ServerCallContext context) =>
        Task.FromResult(LtcWords.Decode(request));

    /// <inheritdoc/>
    public override async Task GenerateShootingDays(
        Wire.GenerateShootingDaysRequest request, IServerStreamWriter<Wire.GenerateShootingDaysResponse> responseStream, ServerCallContext context)
    {
        IReadOnlyList<DayClip> clips = ShootingDays.Generate(request, context.CancellationToken);
        foreach (DayClip[] some in clips.Chunk(ClipsPerMessage))
        {
            await responseStream.WriteAsync(new() { Clips = new() { Clips = { some.Select(LabelWriter.Write) } } }, context.CancellationToken);
        }

        LabelCollisions collisions = ShootingDays.Collisions(clips, context.CancellationToken);
        Wire.ShootingSummary summary = new()
        {
            Seed = request.Seed,
            ClipCount = clips.Count,
            CollisionCount = collisions.Found.Count,
            CollisionsComplete = collisions.IsComplete,
        };
        await responseStream.WriteAsync(new() { Summary = summary }, context.CancellationToken);
    }

    private static void CountItems(string field, int count, int most)
    {
        Violations violations = new();
        violations.Count(field, count, 0, most);
        violations.ThrowIfAny();
    }
}
