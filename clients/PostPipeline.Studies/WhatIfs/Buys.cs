using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>What one more node, 100 TB, a faster link, another assistant or grader buys: the same draws again with one more; zero where it does not bind.</summary>
public static class Buys
{
    private const double HundredTerabytes = 1e14;

    /// <summary>Tries each purchase alone.</summary>
    /// <param name="model">The model.</param>
    /// <param name="count">Draws.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static IReadOnlyList<Purchase> Of(StudyModel model, int count = 1000, int threads = 1, CancellationToken cancellation = default)
    {
        DrawSet draws = DrawSet.Sample(model.Inputs, count, model.Study.Brief.Seed, threads);
        Decision now = Decision.Of(model, draws, [], threads, cancellation);
        List<Purchase> purchases = [];
        foreach ((string what, Change change) in Choices(model.Study.Brief))
        {
            Decision then = Decision.Of(model, draws, [change], threads, cancellation);
            purchases.AddRange(now.Pipelines.Zip(then.Pipelines, (before, after) => new Purchase(
                what,
                before.Name,
                before.Delivery.P90 - after.Delivery.P90,
                after.OnTime.Share - before.OnTime.Share,
                after.Cost.P50 - before.Cost.P50,
                [.. before.Gates.Zip(after.Gates).Where(g => g.First.State != GateState.Passes && g.Second.State == GateState.Passes).Select(g => g.First.Name)],
                then.Preferred)));
        }

        return purchases;
    }

    private static IEnumerable<(string What, Change Change)> Choices(Brief brief)
    {
        foreach (NodeClass node in brief.Farm.Nodes)
        {
            yield return ($"one more node '{node.Name}'", Change.Plus(FarmWork.CountInput(node.Name), 1));
        }

        yield return ("100 TB online", Change.Plus("storage.online.usable", HundredTerabytes / brief.Storage.Online.Redundancy * (1 - brief.Storage.Online.Free)));
        yield return ("100 TB nearline", Change.Plus("storage.nearline.usable", HundredTerabytes / brief.Storage.Nearline.Redundancy * (1 - brief.Storage.Nearline.Free)));
        yield return ("a link twice as fast for seats", Change.Scale("seats.link", 2));
        yield return ("a remote link twice as fast", Change.Scale("seats.wan", 2));
        yield return ("one more offload station a unit", Change.Plus("offload.stations", 1));
        yield return ("one more card for each camera", Change.Plus("cards.more", 1));
        yield return ("one more assistant", Change.Plus("people.assistants", 1));
        yield return ("one more grader", Change.Plus("people.graders", 1));
        yield return ("one more checker", Change.Plus("people.checkers", 1));
    }
}
