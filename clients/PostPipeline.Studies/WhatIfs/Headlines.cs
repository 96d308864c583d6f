using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>
/// The headline numbers of a pipeline as they are printed: what prints the same has not moved.
/// </summary>
internal static class Headlines
{
    /// <summary>Name and print of each number.</summary>
    public static IEnumerable<(string What, string Text)> Of(StudyModel model, PipelineOutcome p)
    {
        yield return ("admissible", p.Admissible);
        yield return ("delivery P10", model.Clock.DateText(p.Delivery.P10));
        yield return ("delivery P50", model.Clock.DateText(p.Delivery.P50));
        yield return ("delivery P90", model.Clock.DateText(p.Delivery.P90));
        yield return ("P(on time), lock slips", Numbers.Percent(p.OnTime.Share));
        yield return ("P(on time), lock holds", Numbers.Percent(p.OnTimeIfLockHolds.Share));
        yield return ("farm done P50", p.HasFarmStage ? model.Clock.DateText(p.FarmFinish.P50) : "–");
        yield return ("online peak P90", Numbers.Size(p.OnlinePeak.P90));
        yield return ("nearline peak P90", Numbers.Size(p.NearlinePeak.P90));
        yield return ("node-hours P50", Numbers.Three(p.NodeHours.P50));
        yield return ("person-hours P50", Numbers.Three(p.PeopleHours.P50));
        yield return ("cost P50", Numbers.Three(p.Cost.P50));
        yield return ("cost P90", Numbers.Three(p.Cost.P90));
        foreach (Gate gate in p.Gates)
        {
            yield return ($"gate {gate.Name}", gate.State.ToString().ToLowerInvariant());
        }
    }

    /// <summary>What differs between two outcomes of one pipeline; a number that only one of them has differs.</summary>
    public static IEnumerable<MovedOutcome> Moved(string pipeline, IEnumerable<(string What, string Text)> before, IEnumerable<(string What, string Text)> after)
    {
        Dictionary<string, string> old = before.ToDictionary(b => b.What, b => b.Text);
        foreach ((string what, string text) in after)
        {
            string was = old.Remove(what, out string? value) ? value : "–";
            if (was != text)
            {
                yield return new(pipeline, what, was, text);
            }
        }

        foreach ((string what, string was) in old)
        {
            yield return new(pipeline, what, was, "–");
        }
    }
}
