using MathNet.Numerics.LinearAlgebra;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>
/// What to find out first: the expected value of perfect information about one input at a time. The choice now is the
/// pipeline with the least expected loss; after knowing an input it is the one with the least loss given its value. The
/// conditional losses come from a cubic regression on the input's rank (after Strong, Oakley and Brennan 2014), on the
/// same draws for all pipelines. Only pipelines whose other gates pass take part.
/// </summary>
public static class FindOut
{
    private const int Degree = 3;

    /// <summary>Ranks the uncertain inputs, the most valuable first.</summary>
    /// <param name="model">The model.</param>
    /// <param name="count">Draws.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static IReadOnlyList<ValueOfKnowing> First(StudyModel model, int count = 4000, int threads = 1, CancellationToken cancellation = default)
    {
        DrawSet draws = DrawSet.Sample(model.Inputs, count, model.Study.Brief.Seed, threads);
        Evaluation evaluation = model.Evaluate(draws, null, threads, cancellation: cancellation);
        PipelineDraws[] choices = [.. evaluation.Pipelines.Where((_, i) => Compare.Outcome(model, evaluation, i).Gates.All(g => g.State == GateState.Passes || g.Name == "date"))];
        double[][] money = [.. choices.Select(c => c.Cost)];
        double[][] late = [.. choices.Select(c => c.Delivered.Select(d => Math.Max(0, d - evaluation.Due) / Calendar.Day).ToArray())];
        List<ValueOfKnowing> values = [];
        foreach (Estimate input in model.Inputs.Inputs.Where(i => !i.IsConstant))
        {
            cancellation.ThrowIfCancellationRequested();
            int place = model.Inputs.PlaceOf(input.Key);
            double[] column = [.. Enumerable.Range(0, count).Select(d => draws.Row(d)[place])];
            values.Add(new(
                input.Key,
                OfKnowing(column, money),
                OfKnowing(column, late),
                input.IsUnknown ? "unknown" : input.Known.ToString().ToLowerInvariant(),
                input.Origin.Length > 0 ? input.Origin : WhoKnows(input.Key)));
        }

        return [.. values.OrderByDescending(v => v.DaysLate > 0.005 ? v.DaysLate : 0).ThenByDescending(v => v.Money).ThenBy(v => v.Input, StringComparer.Ordinal)];
    }

    /// <summary>The expected value of knowing a column before choosing the row of losses that is least on average.</summary>
    /// <param name="column">The input's draws.</param>
    /// <param name="losses">By choice: the loss of each draw.</param>
    public static double OfKnowing(double[] column, IReadOnlyList<double[]> losses)
    {
        if (losses.Count < 2)
        {
            return 0;
        }

        double now = losses.Min(l => l.Average());
        int n = column.Length;
        Matrix<double> basis = Basis(column);
        var solver = basis.QR();
        double[][] fitted = [.. losses.Select(l => (basis * solver.Solve(Vector<double>.Build.Dense(l))).ToArray())];
        double after = 0;
        for (int i = 0; i < n; i++)
        {
            after += fitted.Min(f => f[i]);
        }

        return Math.Max(0, now - (after / n));
    }

    private static Matrix<double> Basis(double[] column)
    {
        int n = column.Length;
        int[] order = [.. Enumerable.Range(0, n)];
        Array.Sort([.. column], order);
        Matrix<double> basis = Matrix<double>.Build.Dense(n, Degree + 1);
        for (int rank = 0; rank < n; rank++)
        {
            // Legendre polynomials on the rank, so that the columns are nearly orthogonal.
            double x = ((2 * rank) + 1.0 - n) / n;
            basis[order[rank], 0] = 1;
            basis[order[rank], 1] = x;
            basis[order[rank], 2] = ((3 * x * x) - 1) / 2;
            basis[order[rank], 3] = ((5 * x * x * x) - (3 * x)) / 2;
        }

        return basis;
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
}
