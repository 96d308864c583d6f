using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Outcomes;

/// <summary>Which admissible pipeline comes first in the brief's order of preference. No score is made.</summary>
public static class Preference
{
    /// <summary>The preferred pipeline, or null where none is admissible.</summary>
    /// <param name="brief">The brief with its order.</param>
    /// <param name="pipelines">The outcomes.</param>
    public static PipelineOutcome? Of(Brief brief, IEnumerable<PipelineOutcome> pipelines)
    {
        PipelineOutcome[] admissible = [.. pipelines.Where(p => p.Admissible == "yes")];
        return admissible.Length == 0 ? null : admissible.Aggregate((best, other) => Compare(brief, other, best) < 0 ? other : best);
    }

    /// <summary>Admissible pipelines that the order of preference cannot tell from the preferred one; the brief's own order decides then.</summary>
    /// <param name="brief">The brief with its order.</param>
    /// <param name="pipelines">The outcomes.</param>
    public static IReadOnlyList<string> Ties(Brief brief, IReadOnlyList<PipelineOutcome> pipelines) => Of(brief, pipelines) is { } preferred
        ? [.. pipelines.Where(p => p.Admissible == "yes" && p.Name != preferred.Name && Compare(brief, p, preferred) == 0).Select(p => p.Name)]
        : [];

    /// <summary>Why it is, as a sentence.</summary>
    /// <param name="brief">The brief with its order.</param>
    /// <param name="pipelines">The outcomes.</param>
    public static string Why(Brief brief, IReadOnlyList<PipelineOutcome> pipelines)
    {
        string excluded = string.Join("; ", pipelines.Where(p => p.Admissible != "yes").Select(p =>
            $"{p.Name} is {(p.Admissible == "no" ? "not admissible" : "not proven")} ({string.Join(", ", p.Gates.Where(g => g.State != GateState.Passes).Select(g => g.Name))})"));
        if (Of(brief, pipelines) is not { } preferred)
        {
            return excluded;
        }

        int others = pipelines.Count(p => p.Admissible == "yes") - 1;
        string choice = others == 0
            ? $"{preferred.Name} is the only admissible pipeline"
            : $"{preferred.Name} has the least {brief.Prefer[0]} of {others + 1} admissible pipelines";
        if (Ties(brief, pipelines) is { Count: > 0 } ties)
        {
            choice += $", as has {string.Join(" and ", ties)} in all that is preferred ({string.Join(", ", brief.Prefer)}): the order in the brief decides";
        }

        return excluded.Length == 0 ? choice : $"{choice}; {excluded}";
    }

    private static int Compare(Brief brief, PipelineOutcome a, PipelineOutcome b)
    {
        foreach (string key in brief.Prefer)
        {
            string[] words = key.Split(' ');
            int order = (words[0] == "cost" ? a.Cost : a.Delivery).At(words[1]).CompareTo((words[0] == "cost" ? b.Cost : b.Delivery).At(words[1]));
            if (order != 0)
            {
                return order;
            }
        }

        return 0;
    }
}
