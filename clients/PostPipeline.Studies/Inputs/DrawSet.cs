using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Inputs;

/// <summary>
/// Draws of all inputs: one row a draw, one column an input. Every pipeline and every what-if is computed on the same
/// rows, so that differences are paired. An input's numbers hang on the seed, its name and the draw only.
/// </summary>
public sealed class DrawSet
{
    private readonly double[] values;

    private readonly double[] luck;

    private DrawSet(int count, InputTable inputs, long seed)
    {
        (Count, Columns, Chances, Seed) = (count, inputs.Count, inputs.Chances.Count, seed);
        values = new double[(long)count * Columns];
        luck = new double[(long)count * Chances];
    }

    private DrawSet(DrawSet like, int count)
    {
        (Count, Columns, Chances, Seed) = (count, like.Columns, like.Chances, like.Seed);
        values = new double[(long)count * Columns];
        luck = new double[(long)count * Chances];
    }

    /// <summary>The most draws of one set.</summary>
    public const int MaximumDraws = 100_000;

    /// <summary>Draws.</summary>
    public int Count { get; }

    /// <summary>Inputs in a row.</summary>
    public int Columns { get; }

    /// <summary>Chances in a row.</summary>
    public int Chances { get; }

    /// <summary>The seed.</summary>
    public long Seed { get; }

    /// <summary>A draw's inputs.</summary>
    /// <param name="draw">0 to <see cref="Count"/> − 1.</param>
    public ReadOnlySpan<double> Row(int draw) => values.AsSpan(draw * Columns, Columns);

    /// <summary>A draw's chances, each between 0 and 1.</summary>
    /// <param name="draw">0 to <see cref="Count"/> − 1.</param>
    public ReadOnlySpan<double> Luck(int draw) => luck.AsSpan(draw * Chances, Chances);

    /// <summary>Draws the inputs at random.</summary>
    /// <param name="inputs">The inputs.</param>
    /// <param name="count">1 to <see cref="MaximumDraws"/>.</param>
    /// <param name="seed">Any seed.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="seedOf">
    /// Another seed for some inputs, by key, or for a named factor, by <c>factor NAME</c>: what productions share is drawn
    /// from a seed that they share. Null for one seed.
    /// </param>
    public static DrawSet Sample(InputTable inputs, int count, long seed, int threads = 1, Func<string, long>? seedOf = null)
    {
        Guard.InRange(count, 1, MaximumDraws);
        DrawSet set = new(count, inputs, seed);
        uint[] chances = [.. inputs.Chances.Select(NameHash)];
        Column[] columns = [.. Enumerable.Range(0, inputs.Count).Select(i => new Column(inputs, i, seedOf ?? (_ => seed)))];
        Parallel.For(0, (count + 255) / 256, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads) }, block =>
        {
            for (int draw = block * 256; draw < Math.Min(count, (block + 1) * 256); draw++)
            {
                set.Fill(draw, columns, chances);
            }
        });
        return set;
    }

    /// <summary>Rows given by the caller as probabilities, one an input and then one a chance: a design of experiments.</summary>
    /// <param name="inputs">The inputs.</param>
    /// <param name="probabilities">Row by row, each strictly between 0 and 1; constants ignore theirs.</param>
    public static DrawSet FromProbabilities(InputTable inputs, IReadOnlyList<double[]> probabilities)
    {
        DrawSet set = new(probabilities.Count, inputs, 0);
        for (int draw = 0; draw < set.Count; draw++)
        {
            for (int i = 0; i < inputs.Count; i++)
            {
                set.values[(draw * inputs.Count) + i] = inputs.Inputs[i].IsConstant ? inputs.Inputs[i].Likely : inputs.Table(i).At(probabilities[draw][i]);
            }

            probabilities[draw].AsSpan(inputs.Count, set.Chances).CopyTo(set.luck.AsSpan(draw * set.Chances));
        }

        return set;
    }

    /// <summary>One row with every input at its median and middling luck: the plan's own numbers.</summary>
    /// <param name="inputs">The inputs.</param>
    public static DrawSet Median(InputTable inputs) =>
        FromProbabilities(inputs, [[.. Enumerable.Repeat(0.5, inputs.Count + inputs.Chances.Count)]]);

    /// <summary>Some of the draws, as they are: what is left of chance once something about an input is known.</summary>
    /// <param name="draws">Places of draws, each 0 to <see cref="Count"/> − 1.</param>
    public DrawSet Only(IReadOnlyList<int> draws)
    {
        DrawSet set = new(this, draws.Count);
        for (int i = 0; i < draws.Count; i++)
        {
            Row(draws[i]).CopyTo(set.values.AsSpan(i * Columns));
            Luck(draws[i]).CopyTo(set.luck.AsSpan(i * Chances));
        }

        return set;
    }

    /// <summary>The same draws with other values of some inputs.</summary>
    /// <param name="places">Places of the inputs.</param>
    /// <param name="valueOf">The value of an input, by its place and the draw.</param>
    public DrawSet With(IReadOnlyList<int> places, Func<int, int, double> valueOf)
    {
        DrawSet set = new(this, Count);
        values.CopyTo(set.values, 0);
        luck.CopyTo(set.luck, 0);
        for (int draw = 0; draw < Count; draw++)
        {
            foreach (int place in places)
            {
                set.values[(draw * Columns) + place] = valueOf(place, draw);
            }
        }

        return set;
    }

    /// <summary>A Gaussian copula: the shared normal with its weight, the rest the input's own.</summary>
    internal static double Shared(double factor, double own, double weight)
    {
        if (weight >= 1)
        {
            return factor;
        }

        double z = (weight * NormalDistribution.Quantile(factor)) + (Math.Sqrt(1 - (weight * weight)) * NormalDistribution.Quantile(own));
        return Math.Clamp(0.5 * MathNet.Numerics.SpecialFunctions.Erfc(-z / Math.Sqrt(2)), 1e-15, 1 - 1e-15);
    }

    internal static uint NameHash(string name)
    {
        // FNV-1a, 32 bits (Fowler, Noll, Vo); multiplication modulo 2³² is the algorithm.
        uint hash = 2166136261;
        foreach (char c in name)
        {
            hash = unchecked((hash ^ c) * 16777619);
        }

        return hash;
    }

    private void Fill(int draw, Column[] columns, uint[] chances)
    {
        Span<double> row = values.AsSpan(draw * Columns, Columns);
        for (int i = 0; i < columns.Length; i++)
        {
            row[i] = columns[i].Draw(draw);
        }

        for (int i = 0; i < chances.Length; i++)
        {
            RandomStream chance = new(Seed, RandomPurpose.Events, draw, chances[i]);
            luck[(draw * Chances) + i] = chance.NextUnit();
        }
    }

    private sealed class Column
    {
        private readonly QuantileTable table;
        private readonly bool constant;
        private readonly double value;
        private readonly uint own;
        private readonly uint shared;
        private readonly long ownSeed;
        private readonly long sharedSeed;
        private readonly double weight;

        public Column(InputTable inputs, int place, Func<string, long> seedOf)
        {
            Estimate input = inputs.Inputs[place];
            (table, constant, value) = (inputs.Table(place), input.IsConstant, input.Likely);
            string name = input.Factor.Length > 0 ? "factor " + input.Factor : input.Key;
            (own, ownSeed) = (NameHash(input.Key), seedOf(input.Key));
            (shared, sharedSeed) = (NameHash(name), seedOf(name));
            weight = input.Factor.Length > 0 ? input.Weight : 1;
        }

        public double Draw(int draw)
        {
            if (constant)
            {
                return value;
            }

            RandomStream stream = new(sharedSeed, RandomPurpose.Inputs, draw, shared);
            double u = stream.NextUnit();
            if (weight < 1)
            {
                RandomStream mine = new(ownSeed, RandomPurpose.Inputs, draw, own);
                u = Shared(u, mine.NextUnit(), weight);
            }

            return table.At(u);
        }
    }
}
