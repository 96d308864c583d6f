using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Studies.Outcomes;

/// <summary>
/// What sets the answer: each limit is relaxed by a small step on the same draws; the one that moves the answer most
/// binds. Then it is relaxed wholly, and the next is found the same way.
/// </summary>
internal sealed class Limits(StudyModel model, DrawSet draws, IReadOnlyList<Change> moved, int threads)
{
    private const double Step = 0.05;
    private const string Station = "offload stations";

    private static readonly (string Name, Change Small, Change Whole)[] All =
    [
        ("farm speed", Change.Scale("farm.speed", 1 + Step), Change.Scale("farm.speed", 1e4)),
        ("farm licences", Change.Scale("farm.licences", 1 + Step), Change.Fix("farm.licences", 0)),
        ("storage bandwidth left to the farm", Change.Scale("farm.storage", 1 + Step), Change.Scale("farm.storage", 1e4)),
        ("assistants", Change.Scale("people.assistants", 1 + Step), Change.Scale("people.assistants", 1e4)),
        ("graders", Change.Scale("people.graders", 1 + Step), Change.Scale("people.graders", 1e4)),
        ("quality checkers", Change.Scale("people.checkers", 1 + Step), Change.Scale("people.checkers", 1e4)),
        ("lock slip", Change.Scale("edit.lock_slip", 1 - Step), Change.Fix("edit.lock_slip", 0)),
        ("lock date", Change.Plus("edit.lock", -1), Change.Plus("edit.lock", -1000)),
        ("editing after the last material", Change.Scale("edit.after_material", 1 - Step), Change.Fix("edit.after_material", 0)),
        (Station, Change.Plus("offload.stations", 1), Change.Plus("offload.stations", 1)),
        ("end of offload after wrap", Change.Scale("offload.after_wrap", 1 - Step), Change.Fix("offload.after_wrap", 0)),
        ("days of a review round", Change.Scale("deliver.review", 1 - Step), Change.Fix("deliver.review", 0)),
        ("link of deliverables", Change.Scale("deliver.link", 1 + Step), Change.Scale("deliver.link", 1e4)),
        ("nearline read rate", Change.Scale("storage.nearline.read", 1 + Step), Change.Scale("storage.nearline.read", 1e4)),
        ("remote link", Change.Scale("seats.wan", 1 + Step), Change.Scale("seats.wan", 1e4)),
    ];

    /// <summary>The binding and the next limit of every pipeline.</summary>
    public IReadOnlyList<(LimitMove? Binding, LimitMove? Next)> Find(IReadOnlyList<PipelineOutcome> pipelines, CancellationToken cancellation)
    {
        double[] now = [.. pipelines.Select(p => p.Delivery.P90)];
        int[] onDate = [.. Enumerable.Range(0, pipelines.Count).Where(i => FailedGate(pipelines[i]) is null)];
        double[][] small = DeliveryP90([.. All.Select(limit => (new[] { limit.Small }, onDate))], cancellation);
        (LimitMove? Binding, int Limit)[] binding = [.. pipelines.Select((p, i) => Binding(p, i, now[i], small))];
        Dictionary<int, (double[] Base, double[][] Moved)> relaxed = [];
        foreach (IGrouping<int, int> bound in Enumerable.Range(0, pipelines.Count).Where(i => binding[i].Limit >= 0).GroupBy(i => binding[i].Limit))
        {
            Change whole = All[bound.Key].Whole;
            double[][] moves = DeliveryP90([(new[] { whole }, bound.ToArray()), .. All.Where((_, i) => i != bound.Key).Select(other => (new[] { whole, other.Small }, bound.ToArray()))], cancellation);
            List<double[]> others = [.. moves.Skip(1)];
            others.Insert(bound.Key, []);
            relaxed[bound.Key] = (moves[0], [.. others]);
        }

        List<(LimitMove?, LimitMove?)> answers = [];
        for (int p = 0; p < pipelines.Count; p++)
        {
            LimitMove? next = null;
            if (binding[p].Limit >= 0)
            {
                (double[] baseline, double[][] others) = relaxed[binding[p].Limit];
                next = Most(baseline[p], [.. others.Select(m => m.Length == 0 ? double.PositiveInfinity : m[p])]).Move;
            }

            answers.Add((binding[p].Binding, next));
        }

        return answers;
    }

    private static (LimitMove? Move, int Limit) Binding(PipelineOutcome pipeline, int place, double now, double[][] small)
    {
        // A gate that fails on something else than the date is what a person must move first.
        Gate? failed = FailedGate(pipeline);
        return failed is not null
            ? (new(failed.Name, $"the gate fails: {failed.Says}", failed.Margin), -1)
            : Most(now, [.. small.Select(s => s[place])]);
    }

    private static Gate? FailedGate(PipelineOutcome pipeline) => pipeline.Gates.FirstOrDefault(g => g.State == GateState.Fails && g.Name != "date");

    private static (LimitMove? Move, int Limit) Most(double now, double[] relaxed)
    {
        int best = -1;
        double most = 60;
        for (int i = 0; i < relaxed.Length; i++)
        {
            double gain = now - relaxed[i];
            if (double.IsFinite(relaxed[i]) && gain > most)
            {
                (best, most) = (i, gain);
            }
        }

        if (best < 0)
        {
            return (null, -1);
        }

        string step = All[best].Name switch { "lock date" => "a day earlier", Station => "with one more a unit", _ => "relaxed by 5 %" };
        return (new(All[best].Name, $"{step}, delivery P90 comes {Numbers.Duration(most)} earlier", most), best);
    }

    // By question and pipeline; NaN for a pipeline that the question leaves out.
    private double[][] DeliveryP90(IReadOnlyList<(Change[] Changes, int[] Pipelines)> questions, CancellationToken cancellation)
    {
        double[][] answers = new double[questions.Count][];
        SideBySide.Each(questions.Count, threads, q =>
            answers[q] = [.. model.Deliveries(draws, [.. moved, .. questions[q].Changes], questions[q].Pipelines, cancellation).Select(d => d.Length > 0 ? Range.Of(d).P90 : double.NaN)], cancellation);
        return answers;
    }
}
