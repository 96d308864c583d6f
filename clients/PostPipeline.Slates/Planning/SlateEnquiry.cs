namespace PostPipeline.Slates.Planning;

/// <summary>
/// Whether a new project can be taken: the slate is planned without it, then with it from that plan on. Where a plan is
/// followed already, that plan stands as it is, what has started stays, and the new project moves as little as it can.
/// </summary>
public static class SlateEnquiry
{
    /// <summary>Answers an enquiry.</summary>
    /// <param name="problem">The present slate.</param>
    /// <param name="enquiry">The new project.</param>
    /// <param name="settings">How long, for both plans together, and how.</param>
    /// <param name="running">The plan of the present slate that is followed; null where it is planned first.</param>
    /// <param name="now">The half-day that it is; not read where no plan is followed.</param>
    /// <param name="progress">Told of what is reached. May be null.</param>
    /// <param name="cancellation">Ends the search.</param>
    /// <exception cref="SlateProblemException">The slate with the new project cannot be planned as it is written.</exception>
    public static EnquiryAnswer Ask(
        SlateProblem problem,
        SlateProject enquiry,
        PlanSettings settings,
        SlatePlan? running = null,
        int now = 0,
        IProgress<PlanProgress>? progress = null,
        CancellationToken cancellation = default)
    {
        SlateProblem larger = problem with { Projects = [.. problem.Projects, enquiry] };
        SlateChecking.Check(larger);
        if (running is not null)
        {
            return With(problem, enquiry, running, settings, running, now, progress, cancellation);
        }

        PlanSettings half = settings with { Seconds = Math.Max(0.1, settings.Seconds / 2) };
        PlanAnswer without = SlatePlanner.Solve(problem, new(problem, null), half, false, null, progress, cancellation);
        if (without.Plan is not SlatePlan before)
        {
            return new(EnquiryVerdict.No, null, null, 0, [], [], without.Obstacles);
        }

        return With(problem, enquiry, before, half, before, null, progress, cancellation);
    }

    /// <summary>The answer where the plan without the new project is known.</summary>
    /// <param name="problem">The present slate.</param>
    /// <param name="enquiry">The new project.</param>
    /// <param name="before">The plan of the present slate.</param>
    /// <param name="settings">How long and how.</param>
    /// <param name="start">A plan to start from.</param>
    /// <param name="now">The half-day that it is where the plan is followed; null where it is not.</param>
    /// <param name="progress">Told of what is reached. May be null.</param>
    /// <param name="cancellation">Ends the search.</param>
    internal static EnquiryAnswer With(
        SlateProblem problem,
        SlateProject enquiry,
        SlatePlan before,
        PlanSettings settings,
        SlatePlan start,
        int? now,
        IProgress<PlanProgress>? progress,
        CancellationToken cancellation)
    {
        SlateProblem larger = problem with { Projects = [.. problem.Projects, enquiry] };
        PlanAnswer with = now is { } at
            ? RunningSlate.Replan(larger, before, at, settings, start, progress, cancellation)
            : SlatePlanner.Solve(larger, new(larger, null), settings, false, start, progress, cancellation);
        if (with.Plan is not SlatePlan after)
        {
            return new(EnquiryVerdict.No, before, null, 0, [], [], with.Obstacles);
        }

        List<DateChange> dates = [.. after.Projects
            .Select(p => new DateChange(p.Project, before.Projects.FirstOrDefault(b => b.Project == p.Project)?.LateSlots ?? 0, p.LateSlots))
            .Where(d => d.LateAfter > d.LateBefore)];
        List<PipelineChange> pipelines = [.. before.Projects.Select(b => (b, a: after.Of(b.Project))).Where(p => p.a.Pipeline != p.b.Pipeline)
            .Select(p => new PipelineChange(p.b.Project, p.b.Pipeline, p.a.Pipeline, p.a.Money - p.b.Money))];
        long extras = after.Rented - before.Rented;
        EnquiryAnswer answer = new(EnquiryVerdict.Yes, before, after, extras, dates, pipelines, []);
        return answer with { Verdict = dates.Count > 0 ? EnquiryVerdict.OnlyIfDatesGiveWay : answer.Price > 0 ? EnquiryVerdict.AtAPrice : EnquiryVerdict.Yes };
    }
}
