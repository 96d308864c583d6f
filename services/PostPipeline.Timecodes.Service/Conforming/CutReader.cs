using System.Collections.Immutable;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Timelines;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>A cut read from the bytes of a stream, in either format, with what stood in the way.</summary>
internal sealed record CutReader(Cut? Cut, EditListNumbers? Numbers, FlatTimeline? Timeline)
{
    /// <summary>Reads a cut and adds its problems to a list.</summary>
    public static CutReader Read(ReadOnlyMemory<byte> bytes, ConformJob job, Wire.ConformFile file, ProblemList problems, CancellationToken cancellationToken)
    {
        if (job.IsTimeline)
        {
            return ReadTimeline(bytes, job, file, problems);
        }

        EditListReading reading = EditListReader.Read(bytes.Span, new() { Strict = job.Strict }, cancellationToken);
        problems.Add(file, reading.Problems);
        CutReading counted = CutBuilder.FromEditList(reading.List, job.Rate);
        problems.Add(file, counted.Problems);
        if (reading.List.Events.IsEmpty)
        {
            problems.Add(new() { File = file, Line = 1, Column = 1, IsError = true, Message = "the edit list has no event that could be read" });
        }

        return new(counted.Cut, EditListNumbers.Of(reading.List), null);
    }

    private static CutReader ReadTimeline(ReadOnlyMemory<byte> bytes, ConformJob job, Wire.ConformFile file, ProblemList problems)
    {
        if (!TimelineDocument.TryRead(bytes, out TimelineDocument? document, out TimelineProblem problem))
        {
            problems.Add(new() { File = file, Field = problem.Path, IsError = true, Message = problem.Message });
            return new(null, null, null);
        }

        using (document)
        {
            FlatTimeline flat = document!.Flatten(out ImmutableArray<TimelineProblem> found);
            foreach (TimelineProblem item in found)
            {
                problems.Add(new() { File = file, Field = item.Path, IsError = item.IsError, Message = item.Message });
            }

            if (job.DropFrame && !TimecodeFormat.AllowsDropFrame(flat.Rate))
            {
                problems.Add(new() { File = file, IsError = true, Message = $"drop-frame numbering does not exist at {flat.Rate} frames per second, the rate of the timeline" });
                return new(null, null, flat);
            }

            return new(TimelineCut.From(flat, job.DropFrame), null, flat);
        }
    }
}
