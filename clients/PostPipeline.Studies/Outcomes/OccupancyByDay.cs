using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies.Outcomes;

/// <summary>
/// Bytes by day by tier of one pipeline: P10, P50 and P90 of the draws at each moment. The curve of a draw is piecewise
/// linear: a generation grows while its stage runs and is there until it may be deleted.
/// </summary>
public sealed class OccupancyByDay
{
    /// <summary>The most draws that a daily band is made from.</summary>
    public const int MostDraws = 1_000;

    /// <summary>The most moments of a curve; a longer production is sampled every second, third … day.</summary>
    public const int MostMoments = 400;

    private OccupancyByDay(string pipeline, IReadOnlyList<OccupancyDay> online, IReadOnlyList<OccupancyDay> nearline) => (Pipeline, Online, Nearline) = (pipeline, online, nearline);

    /// <summary>The pipeline.</summary>
    public string Pipeline { get; }

    /// <summary>The online tier.</summary>
    public IReadOnlyList<OccupancyDay> Online { get; }

    /// <summary>The nearline tier.</summary>
    public IReadOnlyList<OccupancyDay> Nearline { get; }

    /// <summary>The curves of every pipeline of a comparison, over the same days.</summary>
    /// <param name="comparison">A comparison.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static IReadOnlyList<OccupancyByDay> Of(Comparison comparison, CancellationToken cancellation = default) =>
        Of(comparison.Draws, comparison.Changes, comparison.Evaluation, cancellation);

    /// <summary>The curves of every pipeline of an evaluation.</summary>
    /// <param name="set">The draws of the inputs behind it.</param>
    /// <param name="changes">The changes behind it.</param>
    /// <param name="evaluation">The evaluation, with detail.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static IReadOnlyList<OccupancyByDay> Of(DrawSet set, IReadOnlyList<Change> changes, Evaluation evaluation, CancellationToken cancellation = default)
    {
        StudyModel model = evaluation.Model;
        int draws = Math.Min(evaluation.Draws, MostDraws);
        Lives[] lives = [.. model.Plans.Select(plan => new Lives(plan, draws))];
        (int Place, Change Change)[] moved = [.. changes.Select(c => (model.Inputs.PlaceOf(c.Input), c))];
        Scope scope = model.NewScope();
        for (int draw = 0; draw < draws; draw++)
        {
            cancellation.ThrowIfCancellationRequested();
            model.Prepare(scope, set, draw, moved);
            for (int p = 0; p < lives.Length; p++)
            {
                lives[p].Keep(draw, evaluation.Pipelines[p], model.Plans[p].KeepSeconds(scope));
            }
        }

        double end = lives.Max(l => l.End);
        double step = 86_400 * Math.Max(1, Math.Ceiling(end / 86_400 / MostMoments));
        double[] moments = [.. Enumerable.Range(0, (int)Math.Min(MostMoments + 1, (end / step) + 2)).Select(i => i * step)];
        OccupancyDay[][] curves = new OccupancyDay[lives.Length * 2][];
        Parallel.For(0, curves.Length, new ParallelOptions { CancellationToken = cancellation }, c => curves[c] = lives[c / 2].Curve(c % 2, moments));
        return [.. lives.Select((_, p) => new OccupancyByDay(evaluation.Pipelines[p].Name, curves[p * 2], curves[(p * 2) + 1]))];
    }

    // When each generation of each draw starts to grow, is complete, and is gone.
    private sealed class Lives(PipelinePlan plan, int draws)
    {
        private readonly double[][] from = [.. plan.Generations.Select(_ => new double[draws])];
        private readonly double[][] complete = [.. plan.Generations.Select(_ => new double[draws])];
        private readonly double[][] gone = [.. plan.Generations.Select(_ => new double[draws])];
        private readonly double[][] size = [.. plan.Generations.Select(_ => new double[draws])];

        public double End { get; private set; }

        public void Keep(int draw, PipelineDraws kept, double keepSeconds)
        {
            for (int g = 0; g < plan.Generations.Length; g++)
            {
                Generation generation = plan.Generations[g];
                size[g][draw] = kept.Sizes[g][draw];
                from[g][draw] = kept.StageStart[generation.Stage][draw];
                complete[g][draw] = kept.StageFinish[generation.Stage][draw];
                gone[g][draw] = Math.Max(complete[g][draw], generation.GoneAfter >= 0 ? kept.StageFinish[generation.GoneAfter][draw] : kept.Delivered[draw] + keepSeconds);
                if (gone[g][draw] < Calendar.Never)
                {
                    End = Math.Max(End, gone[g][draw]);
                }
            }
        }

        public OccupancyDay[] Curve(int tier, double[] moments)
        {
            double[] held = new double[draws];
            return [.. moments.Select(m => new OccupancyDay(m, At(tier, m, held)))];
        }

        private Range At(int tier, double moment, double[] held)
        {
            Array.Clear(held);
            for (int g = 0; g < plan.Generations.Length; g++)
            {
                if (plan.Generations[g].Tier != tier)
                {
                    continue;
                }

                for (int d = 0; d < held.Length; d++)
                {
                    if (moment > from[g][d] && moment <= gone[g][d])
                    {
                        held[d] += moment >= complete[g][d] ? size[g][d] : size[g][d] * (moment - from[g][d]) / (complete[g][d] - from[g][d]);
                    }
                }
            }

            return Range.Of(held);
        }
    }
}
