using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>
/// What to find out first: the expected value of perfect information about one input at a time, on the decision as it is
/// made: gates first, the date among them, then the brief's order of preference. The draws are ordered by the input and
/// cut into equal bins; in each bin the choice is made anew on that bin's draws alone, as by someone who knows in which
/// bin the input lies, and is compared with the choice made now on the same draws. What a column of random numbers
/// reaches too is noise, and counts as nothing. Where no pipeline is admissible, the one that fails the fewest other
/// gates, and of these is most likely on time, stands in.
/// </summary>
public static class FindOut
{
    private const int MostBins = 8;
    private const int LeastInBin = 50;
    private const int NoiseColumns = 12;

    /// <summary>Ranks the uncertain inputs, the most valuable first.</summary>
    /// <param name="model">The model.</param>
    /// <param name="count">Draws.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static IReadOnlyList<ValueOfKnowing> First(StudyModel model, int count = 4000, int threads = 1, CancellationToken cancellation = default) =>
        Rank(model, count, threads, null, cancellation).Inputs;

    /// <summary>Ranks the uncertain inputs and says what would be chosen now, and which gates no draw can decide.</summary>
    /// <param name="model">The model.</param>
    /// <param name="count">Draws.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="progress">Told which part is done; null where nobody asks.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static RankedUnknowns Rank(StudyModel model, int count = 4000, int threads = 1, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        DrawSet draws = DrawSet.Sample(model.Inputs, count, model.Study.Brief.Seed, threads);
        PipelineOutcome[] outcomes = Outcomes(model, model.Evaluate(draws, null, threads, cancellation: cancellation));
        (string now, int taken) = Choose(model, outcomes);
        Worth Of(double[] column) => OfKnowing(model, draws, column, now, taken, threads, cancellation);
        Worth[] noise = [.. Enumerable.Range(0, NoiseColumns).Select(entity => Of(Noise(model.Study.Brief.Seed, entity, count)))];
        Worth floor = new(noise.Max(n => n.Changes), noise.Max(n => Math.Abs(n.Money)), noise.Max(n => Math.Abs(n.DaysLate)));
        Estimate[] uncertain = [.. model.Inputs.Inputs.Where(i => !i.IsConstant)];
        List<ValueOfKnowing> values = [];
        foreach (Estimate input in uncertain)
        {
            cancellation.ThrowIfCancellationRequested();
            int place = model.Inputs.PlaceOf(input.Key);
            Worth worth = Of([.. Enumerable.Range(0, count).Select(d => draws.Row(d)[place])]);
            bool counts = worth.Changes > floor.Changes;
            values.Add(new(
                input.Key,
                counts ? worth.Changes : 0,
                counts && Math.Abs(worth.Money) > floor.Money ? worth.Money : 0,
                counts && Math.Abs(worth.DaysLate) > floor.DaysLate ? worth.DaysLate : 0,
                input.IsUnknown ? "unknown" : input.Known.ToString().ToLowerInvariant(),
                WhoKnows(input)));
            progress?.Report((double)values.Count / uncertain.Length);
        }

        return new(
            now,
            outcomes[taken].Name,
            [.. outcomes.SelectMany(o => o.Gates.Where(g => g.State == GateState.Unknown).Select(g => new OpenGate(o.Name, g.Name, g.Says)))],
            [.. values.OrderByDescending(v => v.DaysLate > 0.005 ? v.DaysLate : 0)
                .ThenByDescending(v => v.Money)
                .ThenByDescending(v => v.Changes)
                .ThenBy(v => v.Input, StringComparer.Ordinal)]);
    }

    /// <summary>Who would know an input: whom the brief names, else who knows such things as a rule.</summary>
    /// <param name="input">The input.</param>
    public static string WhoKnows(Estimate input) => input.Origin.Length > 0 ? input.Origin : WhoKnows(input.Key);

    /// <summary>Places of draws in equal bins of a column, the lowest values first.</summary>
    /// <param name="column">An input's draws.</param>
    public static IReadOnlyList<IReadOnlyList<int>> Bins(double[] column)
    {
        int n = column.Length;
        int bins = Math.Clamp(n / LeastInBin, 1, MostBins);
        int[] order = [.. Enumerable.Range(0, n).OrderBy(i => column[i])];
        return [.. Enumerable.Range(0, bins).Select(b => (IReadOnlyList<int>)order[(n * b / bins)..(n * (b + 1) / bins)])];
    }

    private static Worth OfKnowing(StudyModel model, DrawSet draws, double[] column, string now, int taken, int threads, CancellationToken cancellation)
    {
        (double changes, double money, double late) = (0, 0, 0);
        foreach (IReadOnlyList<int> bin in Bins(column))
        {
            Evaluation evaluation = model.Evaluate(draws.Only(bin), null, threads, cancellation: cancellation);
            (string then, int choice) = Choose(model, Outcomes(model, evaluation));
            if (then == now)
            {
                continue;
            }

            PipelineDraws before = evaluation.Pipelines[taken];
            PipelineDraws after = evaluation.Pipelines[choice];
            changes += bin.Count;
            money += before.Cost.Sum() - after.Cost.Sum();
            late += before.Delivered.Sum(d => Late(d, evaluation.Due)) - after.Delivered.Sum(d => Late(d, evaluation.Due));
        }

        return new(changes / draws.Count, money / draws.Count, late / draws.Count);
    }

    private static PipelineOutcome[] Outcomes(StudyModel model, Evaluation evaluation) => [.. evaluation.Pipelines.Select((_, i) => Compare.Outcome(model, evaluation, i))];

    // The decision's name, and the pipeline that is then taken.
    private static (string Name, int Taken) Choose(StudyModel model, PipelineOutcome[] outcomes)
    {
        if (Preference.Of(model.Study.Brief, outcomes) is { } preferred)
        {
            return (preferred.Name, Array.IndexOf(outcomes, preferred));
        }

        PipelineOutcome stand = outcomes
            .OrderBy(o => o.Gates.Count(g => g.State != GateState.Passes && g.Name != "date"))
            .ThenByDescending(o => o.OnTime.Share)
            .First();
        return (Decision.None, Array.IndexOf(outcomes, stand));
    }

    private static double Late(double delivered, double due) => Math.Max(0, delivered - due) / Calendar.Day;

    private static double[] Noise(long seed, int entity, int count)
    {
        double[] column = new double[count];
        for (int draw = 0; draw < count; draw++)
        {
            RandomStream stream = new(seed, RandomPurpose.General, draw, entity);
            column[draw] = stream.NextUnit();
        }

        return column;
    }

    private static string WhoKnows(string key) => key.Split('.')[0] switch
    {
        "shoot" => "first assistant director, camera department",
        "edit" => "editor, post supervisor",
        "finish" => key.Contains("grade", StringComparison.Ordinal) ? "grading house" : "conform and finishing assistants",
        "deliver" => "distributor, producer",
        "prices" => "whoever quotes the price",
        "farm" or "predicted" => "whoever runs the farm: twenty benchmark rows of your own",
        "seats" => "the editing suite: an hour's test",
        "storage" => "the delivery contract",
        _ => "post supervisor",
    };

    private readonly record struct Worth(double Changes, double Money, double DaysLate);
}
