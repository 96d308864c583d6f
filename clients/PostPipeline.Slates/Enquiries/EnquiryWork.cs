using PostPipeline.Slates.Planning;

namespace PostPipeline.Slates.Enquiries;

/// <summary>How far apart two versions of a project are for a plan: its work, what it keeps, which pipeline is cheapest.</summary>
internal static class EnquiryWork
{
    /// <summary>0 where a plan cannot tell them apart; else the sum of relative differences of all that a plan looks at.</summary>
    public static double Distance(SlateProject left, SlateProject right)
    {
        double[] a = [.. Facts(left)];
        double[] b = [.. Facts(right)];

        // Another number of pipelines or of stages is further than any difference in work.
        return a.Length != b.Length ? 1e6 : a.Zip(b).Sum(p => Math.Abs(p.First - p.Second) / (1 + Math.Abs(p.First)));
    }

    private static IEnumerable<double> Facts(SlateProject project)
    {
        List<SlateOption> cheapestFirst = [.. project.Options.OrderBy(o => o.Money).ThenBy(o => o.Pipeline, StringComparer.Ordinal)];
        foreach (SlateOption option in project.Options.OrderBy(o => o.Pipeline, StringComparer.Ordinal))
        {
            yield return cheapestFirst.IndexOf(option);
            foreach (SlateStage stage in option.Stages)
            {
                yield return stage.NotBefore;
                yield return stage.Duration;
                foreach (double fact in stage.After.Select(a => (double)a.LagSlots)
                    .Concat(stage.Uses.Select(u => (double)u.Amount))
                    .Concat(stage.Farm.SelectMany(f => f.NodeCounts.Select(n => (double)f.Duration(n)))))
                {
                    yield return fact;
                }
            }

            foreach (GenerationLife life in option.Lives)
            {
                yield return life.Amount;
                yield return life.LagSlots;
            }
        }
    }
}
