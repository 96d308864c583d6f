using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Jobs whose segment length is to be chosen, read from a request and ready to be compared.</summary>
internal sealed class SegmentQuestion
{
    private const int MostReplications = 10_000;

    private readonly AdviseSegmentsRequest request;
    private readonly FarmScenario scenario;

    private SegmentQuestion(AdviseSegmentsRequest request, FarmScenario scenario) => (this.request, this.scenario) = (request, scenario);

    /// <summary>Reads a request; throws when anything in it is wrong.</summary>
    public static SegmentQuestion Read(AdviseSegmentsRequest request)
    {
        Violations violations = new();
        violations.InRange("replications", request.Replications, 1, MostReplications);
        violations.Count("segment_frames", request.SegmentFrames.Count, 0, SegmentAdvice.MostLengths);
        for (int i = 0; i < request.SegmentFrames.Count; i++)
        {
            violations.InRange(FieldPath.Of("segment_frames")[i], request.SegmentFrames[i], 1, FarmScenarioLimits.MostFrames);
        }

        violations.Count("jobs", request.Jobs.Count, 1, FarmReader.MostJobs);
        return new(request, new FarmReader(violations).Read(request.Farm, request.Jobs));
    }

    /// <summary>Compares the lengths.</summary>
    /// <param name="report">Told how many replications of all lengths are done, and how many there are.</param>
    /// <param name="token">Ends it early.</param>
    public AdviseSegmentsResponse Answer(Action<int, int> report, CancellationToken token)
    {
        IReadOnlyList<PostPipeline.Farms.SegmentLength> compared = SegmentAdvice.Compare(
            scenario, [.. request.SegmentFrames], request.Seed, request.Replications, report, token);
        Violations violations = new();
        violations.Require("segment_frames", compared.Count > 0, $"makes more than {FarmScenarioLimits.MostTasks} tasks at every length; allowed are longer segments");
        violations.ThrowIfAny();
        AdviseSegmentsResponse response = new() { BestSegmentFrames = SegmentAdvice.Best(compared).Frames };
        response.Lengths.AddRange(compared.Select(FarmWriter.Write));
        response.Notes.AddRange(FarmNotes.Of(request.Farm, request.Jobs));
        return response;
    }
}
