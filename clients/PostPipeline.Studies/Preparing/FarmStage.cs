using PostPipeline.Studies.Stages;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Preparing;

/// <summary>One farm stage of a pipeline at the planned material, as the event simulation needs it.</summary>
internal sealed record FarmStage(string Key, IReadOnlyList<(string Label, long Release, long Frames, JobFacts Facts)> Jobs, long FluidFinish)
{
    public long FirstRelease => Jobs.Min(j => j.Release);

    public long LastRelease => Jobs.Max(j => j.Release);

    /// <summary>The farm stages of a plan that has been computed in a scope.</summary>
    public static IEnumerable<FarmStage> Of(PreparedStudy study, PipelinePlan plan, Scope scope)
    {
        if (plan.FarmStage >= 0)
        {
            List<(string, long, long, JobFacts)> jobs = [];
            for (int s = 0; s < study.Strands.Count; s++)
            {
                Strand strand = study.Strands[s];
                JobFacts facts = study.Job(plan.FarmKind, strand.Recording.Mode.Name);
                double share = plan.FarmShare!(scope, s);
                for (int day = 0; day < strand.Frames.Length; day++)
                {
                    long frames = (long)Math.Round(strand.Frames[day] * share);
                    if (frames > 0)
                    {
                        jobs.Add(($"day {day + 1}, strand {s + 1}", scope.Ready[day], frames, facts));
                    }
                }
            }

            if (jobs.Count > 0)
            {
                yield return new(plan.Stages[plan.FarmStage].CalibrationKey, jobs, scope.Finish[plan.FarmStage]);
            }
        }

        JobFacts render = study.Job(plan.RenderKind, string.Empty);
        long finished = (long)Math.Round(study.Brief.Edit.FinishedSeconds * study.Brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble());
        yield return new(plan.Stages[plan.RenderStage].CalibrationKey, [("final render", scope.Start[plan.RenderStage], finished, render)], scope.Finish[plan.RenderStage]);
    }
}
