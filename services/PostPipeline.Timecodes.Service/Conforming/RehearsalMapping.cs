using PostPipeline.Timecodes.Rehearsals;
using Types = PostPipeline.Contracts.Types.V1;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>Maps what a rehearsal found to the wire.</summary>
internal static class RehearsalMapping
{
    private const int MostFindings = 1_000;

    public static Wire.RehearsePlanResponse ToResponse(RehearsalResult result, RehearsalPlan plan)
    {
        Wire.RehearsePlanResponse response = new()
        {
            Verdict = result.Passes switch
            {
                true => Types.Verdict.Pass,
                false => Types.Verdict.Fail,
                null => Types.Verdict.Unknown,
            },
            Events = result.Events,
            ProblemEvents = result.ProblemEvents,
            ProblemEventsBest = result.ProblemEventsBest,
            Takes = plan.Takes.Length,
            Seed = plan.Seed,
            BehavioursTried = result.Behaviours,
        };
        response.Findings.AddRange(result.Findings.Take(MostFindings).Select(ToWire));
        return response;
    }

    private static Wire.RehearsalFinding ToWire(RehearsalFinding finding) => new()
    {
        Name = RehearsalText.NameOf(finding.Cause),
        Verdict = finding.Fails ? Types.Verdict.Fail : Types.Verdict.Unknown,
        Camera = finding.Camera,
        FirstDay = finding.FirstDay,
        Takes = finding.Takes,
        Events = finding.Events,
        Description = finding.Description,
        Remedy = finding.Remedy,
        TouchesMatch = finding.TouchesMatch,
    };
}
