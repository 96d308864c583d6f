using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;

namespace PostPipeline.Studies.Sensitivities;

/// <summary>Which inputs an output of a pipeline hangs on.</summary>
public static class Sensitivity
{
    /// <summary>The name under which chance (farm noise, rounds of review, named events) is reported as one more input.</summary>
    public const string Chance = "chance";

    /// <summary>Indices of every uncertain input on one output of one pipeline, the largest total first.</summary>
    /// <param name="model">The model; its material stays as expanded.</param>
    /// <param name="output">Takes the output from the draws of a pipeline.</param>
    /// <param name="pipeline">Place of the pipeline.</param>
    /// <param name="points">Points of a scramble, a power of two.</param>
    /// <param name="scrambles">Independent scrambles.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static IReadOnlyList<SobolIndex> Of(
        StudyModel model, Func<PipelineDraws, double[]> output, int pipeline, int points = 512, int scrambles = 8, int threads = 1, CancellationToken cancellation = default)
    {
        InputTable inputs = model.Inputs;
        List<(string Name, IReadOnlyList<int> Columns)> groups = Groups(inputs, out int dimensions, out Dictionary<string, int> factors);
        return [.. SobolIndices.Estimate(
            dimensions,
            groups,
            rows => output(model.Evaluate(DrawSet.FromProbabilities(inputs, [.. rows.Select(r => Probabilities(inputs, r, factors))]), null, threads, cancellation: cancellation).Pipelines[pipeline]),
            points,
            scrambles,
            model.Study.Brief.Seed).OrderByDescending(i => i.Total)];
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
