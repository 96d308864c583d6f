using PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Client;

/// <summary>Labels as texts over the packed calls of the timecode service, any number of them.</summary>
public static class LabelCalls
{
    /// <summary>The labels of frame indices.</summary>
    /// <param name="client">The service.</param>
    /// <param name="format">How frames are counted.</param>
    /// <param name="frameIndices">Frames from label zero; they wrap at 24 label hours.</param>
    /// <param name="framesPerSuperFrame">Null for plain labels; else frames in a super-frame, 0 for the usual grouping.</param>
    /// <param name="cancellation">Gives up.</param>
    public static async Task<IReadOnlyList<string>> LabelsOfAsync(
        this TimecodeService.TimecodeServiceClient client,
        LabelFormat format,
        IEnumerable<long> frameIndices,
        int? framesPerSuperFrame = null,
        CancellationToken cancellation = default)
    {
        List<string> labels = [];
        foreach (long[] some in frameIndices.Chunk(LabelRows.MostRows))
        {
            FormatLabelsRequest request = new() { Format = format, FrameIndices = { some } };
            if (framesPerSuperFrame is { } grouping)
            {
                request.FramesPerSuperFrame = grouping;
            }

            FormatLabelsResponse response = await client.FormatLabelsAsync(request, cancellationToken: cancellation).ConfigureAwait(false);
            labels.AddRange(LabelRows.Unpack(response.Labels, response.LabelWidth));
        }

        return labels;
    }

    /// <summary>The frame indices of labels, or why a label has none.</summary>
    /// <param name="client">The service.</param>
    /// <param name="format">How frames are counted.</param>
    /// <param name="labels">Labels.</param>
    /// <param name="snapForward">Take a dropped label as the next label that exists, instead of refusing it.</param>
    /// <param name="framesPerSuperFrame">Null for plain labels; else frames in a super-frame, 0 for the usual grouping.</param>
    /// <param name="cancellation">Gives up.</param>
    public static async Task<IReadOnlyList<LabelReading>> FramesOfAsync(
        this TimecodeService.TimecodeServiceClient client,
        LabelFormat format,
        IEnumerable<string> labels,
        bool snapForward = false,
        int? framesPerSuperFrame = null,
        CancellationToken cancellation = default)
    {
        List<LabelReading> readings = [];
        foreach (string[] some in labels.Chunk(LabelRows.MostRows))
        {
            (Google.Protobuf.ByteString rows, int width) = LabelRows.Pack(some);
            ParseLabelsRequest request = new() { Format = format, LabelWidth = width, Labels = rows, SnapDroppedForward = snapForward };
            if (framesPerSuperFrame is { } grouping)
            {
                request.FramesPerSuperFrame = grouping;
            }

            ParseLabelsResponse response = await client.ParseLabelsAsync(request, cancellationToken: cancellation).ConfigureAwait(false);
            Dictionary<int, string> problems = response.Errors.ToDictionary(error => error.Index, error => error.Description);
            readings.AddRange(some.Select((label, i) =>
                problems.TryGetValue(i, out string? problem) ? new LabelReading(label, null, problem) : new(label, response.FrameIndices[i], null)));
        }

        return readings;
    }
}
