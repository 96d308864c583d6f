using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.WhatIfs;

namespace PostPipeline.Slates.Enquiries;

/// <summary>
/// Which unknown of an enquiry to ask about first: each uncertain input of its brief is set to its P10 and to its P90, the
/// slate is planned with it again, and the answers are held beside each other. That is two points of each input, one input
/// at a time, planned for a short while; it says what could turn the answer, not how often it would.
/// </summary>
public static class EnquiryUnknowns
{
    /// <summary>The most unknowns that are planned with; those that move most are taken.</summary>
    public const int MostPlanned = 12;

    private const int NoisePlans = 2;

    /// <summary>Ranks the unknowns.</summary>
    /// <param name="evaluation">The slate with the enquiry on it.</param>
    /// <param name="place">The enquiry, from 0.</param>
    /// <param name="answer">The answer as things stand, with the plan of the others.</param>
    /// <param name="settings">How long, for all plans together, and how.</param>
    /// <param name="threads">Threads for the evaluations; the numbers do not hang on it.</param>
    /// <param name="now">The half-day that it is where the plan of the others is followed; null where it is not.</param>
    /// <param name="progress">Told of what is being planned. May be null.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static RankedEnquiry Rank(
        SlateEvaluation evaluation, int place, EnquiryAnswer answer, PlanSettings settings, int threads = 1, int? now = null, IProgress<string>? progress = null, CancellationToken cancellation = default)
    {
        StudyModel model = evaluation.Projects[place].Model;
        SlateProblem all = new SlateProblemBuilder(evaluation).Build();
        SlateProject project = all.Projects[place];
        Estimate[] uncertain = [.. model.Inputs.Inputs.Where(i => !i.IsConstant && !IsOfTheHouse(i.Key))];
        if (answer.Without is not { } others)
        {
            return new([], uncertain.Length, 0, 0, 0, 0);
        }

        List<Candidate> moving = [];
        foreach (Estimate input in uncertain)
        {
            cancellation.ThrowIfCancellationRequested();
            Candidate candidate = new(input, At(input, 0.1), At(input, 0.9));
            if (candidate.Moves > 0)
            {
                moving.Add(candidate);
            }
        }

        SlateProblem without = all with { Projects = [.. all.Projects.Where(p => p != project)] };
        Candidate[] planned = [.. moving.OrderByDescending(c => c.Moves).ThenBy(c => c.Input.Key, StringComparer.Ordinal).Take(MostPlanned)];
        PlanSettings each = settings with { Seconds = Math.Max(0.1, settings.Seconds / ((2 * planned.Length) + NoisePlans)), Exact = false };
        EnquiryAt asItIs = EnquiryAt.Of(0, answer, project.Name);
        EnquiryAt[] again = planned.Length == 0 ? [] : [.. Enumerable.Range(1, NoisePlans).Select(n => Ask(project, 0, each with { Seed = each.Seed + n }))];
        long priceNoise = again.Select(a => Math.Abs(a.Price - asItIs.Price)).DefaultIfEmpty(0).Max();
        int lateNoise = again.Select(a => Math.Abs(a.LateHalfDays - asItIs.LateHalfDays)).DefaultIfEmpty(0).Max();
        List<EnquiryUnknown> unknowns = [];
        foreach (Candidate c in planned)
        {
            cancellation.ThrowIfCancellationRequested();
            progress?.Report($"{project.Name} with {c.Input.Key} at both ends ({unknowns.Count + 1} of {planned.Length})");
            unknowns.Add(new(
                c.Input.Key,
                c.Input.Unit,
                asItIs with { Value = c.Input.Likely },
                Ask(c.Low.Project, c.Low.Value, each),
                Ask(c.High.Project, c.High.Value, each),
                c.Input.IsUnknown ? "unknown" : c.Input.Known.ToString().ToLowerInvariant(),
                FindOut.WhoKnows(c.Input)));
        }

        return new(RankedEnquiry.Order(unknowns, priceNoise, lateNoise), uncertain.Length, moving.Count, planned.Length, priceNoise, lateNoise);

        (double Value, SlateProject? Project, double Moves) At(Estimate input, double probability)
        {
            double value = model.Inputs.Table(model.Inputs.PlaceOf(input.Key)).At(probability);
            try
            {
                SlateEvaluation known = evaluation.With(place, [Change.Fix(input.Key, value)], threads, cancellation);
                SlateProject then = new SlateProblemBuilder(known).Build().Projects[place];
                return (value, then, EnquiryWork.Distance(project, then));
            }
            catch (BriefException)
            {
                // No pipeline can be taken then: the answer is no.
                return (value, null, double.MaxValue);
            }
        }

        EnquiryAt Ask(SlateProject? asked, double value, PlanSettings how) => asked is null
            ? new(value, EnquiryVerdict.No, 0, 0, [], null)
            : EnquiryAt.Of(value, SlateEnquiry.With(without, asked, others, how, answer.With ?? others, now, null, cancellation), asked.Name);
    }

    // What the house itself knows, and what other projects share, is not the enquiry's to say.
    private static bool IsOfTheHouse(string key) => key.StartsWith("farm.", StringComparison.Ordinal) || key.StartsWith("predicted.", StringComparison.Ordinal);

    private sealed record Candidate(Estimate Input, (double Value, SlateProject? Project, double Moves) Low, (double Value, SlateProject? Project, double Moves) High)
    {
        public double Moves => Math.Max(Low.Moves, High.Moves);
    }
}
