using PostPipeline.Quantities;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;

namespace PostPipeline.Studies.Sensitivities;

/// <summary>Which inputs an output of a pipeline hangs on.</summary>
public static class Sensitivity
{
    /// <summary>The name under which chance (farm noise, rounds of review, named events) is reported as one more input.</summary>
    public const string Chance = "chance";

    /// <summary>The most evaluations of one question; each walks every pipeline of the brief once.</summary>
    public const long MaximumEvaluations = 10_000_000;

    /// <summary>How many inputs and groups of inputs are told apart: constants are not, chance is one.</summary>
    /// <param name="model">The model.</param>
    public static int GroupCount(StudyModel model) => Groups(model.Inputs, out _, out _).Count;

    /// <summary>How many evaluations a question takes: two designs, and one a group, for each scramble.</summary>
    /// <param name="model">The model.</param>
    /// <param name="points">Points of a scramble.</param>
    /// <param name="scrambles">Independent scrambles.</param>
    public static long Evaluations(StudyModel model, int points, int scrambles) => (GroupCount(model) + 2L) * points * scrambles;

    /// <summary>
    /// Indices of every uncertain input on one output of every pipeline, in the brief's order, the largest total first.
    /// Constants explain nothing and are left out; all pipelines are computed on the same points.
    /// </summary>
    /// <param name="model">The model; its material stays as expanded.</param>
    /// <param name="output">Takes the output from the draws of a pipeline.</param>
    /// <param name="points">Points of a scramble, a power of two.</param>
    /// <param name="scrambles">Independent scrambles.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="progress">Told which part is done; null where nobody asks.</param>
    /// <param name="cancellation">Ends the computation.</param>
    /// <exception cref="ArgumentOutOfRangeException">It would take more than <see cref="MaximumEvaluations"/>.</exception>
    public static IReadOnlyList<SobolEstimate> Of(
        StudyModel model,
        Func<PipelineDraws, double[]> output,
        int points = 512,
        int scrambles = 8,
        int threads = 1,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default)
    {
        Guard.InRange(Evaluations(model, points, scrambles), 1, MaximumEvaluations, "evaluations");
        InputTable inputs = model.Inputs;
        List<(string Name, IReadOnlyList<int> Columns)> groups = Groups(inputs, out int dimensions, out Dictionary<string, int> factors);
        IReadOnlyList<double[]> Evaluate(IReadOnlyList<double[]> rows)
        {
            DrawSet draws = DrawSet.FromProbabilities(inputs, [.. rows.Select(r => Probabilities(inputs, r, factors))]);
            return [.. model.Evaluate(draws, null, threads, cancellation: cancellation).Pipelines.Select(output)];
        }

        return [.. SobolIndices.Estimate(dimensions, groups, Evaluate, model.Pipelines.Count, points, scrambles, model.Study.Brief.Seed, progress: progress)
            .Select(e => e with { Indices = [.. e.Indices.OrderByDescending(i => i.Total)] })];
    }

    // A column an input, a column a chance, then a column a named factor; inputs of one factor are one group.
    private static List<(string, IReadOnlyList<int>)> Groups(InputTable inputs, out int dimensions, out Dictionary<string, int> factors)
    {
        int next = inputs.Count + inputs.Chances.Count;
        factors = [];
        List<(string, IReadOnlyList<int>)> groups = [];
        foreach (IGrouping<string, int> factor in Enumerable.Range(0, inputs.Count).Where(i => !inputs.Inputs[i].IsConstant).GroupBy(i => inputs.Inputs[i].Factor))
        {
            if (factor.Key.Length == 0)
            {
                groups.AddRange(factor.Select(i => (inputs.Inputs[i].Key, (IReadOnlyList<int>)[i])));
                continue;
            }

            factors.Add(factor.Key, next);
            groups.Add((factor.Key, [.. factor, next]));
            next++;
        }

        groups.Add((Chance, [.. Enumerable.Range(inputs.Count, inputs.Chances.Count)]));
        dimensions = next;
        return groups;
    }

    private static double[] Probabilities(InputTable inputs, double[] row, Dictionary<string, int> factors)
    {
        double[] probabilities = row[..(inputs.Count + inputs.Chances.Count)];
        for (int i = 0; i < inputs.Count; i++)
        {
            Estimate input = inputs.Inputs[i];
            if (input.Factor.Length > 0 && factors.TryGetValue(input.Factor, out int column))
            {
                probabilities[i] = DrawSet.Shared(row[column], row[i], input.Weight);
            }
        }

        return probabilities;
    }
}
