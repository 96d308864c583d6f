using PostPipeline.Quantities.Randomness;

namespace PostPipeline.RenderTimes;

/// <summary>Folds that hold whole families out: rows of one family never stand on both sides.</summary>
public static class FamilyFolds
{
    /// <summary>The fold of each family.</summary>
    /// <param name="families">Number of families, 2 or more.</param>
    /// <param name="folds">Number of folds; with fewer families each has its own.</param>
    /// <param name="seed">Seed of the shuffle.</param>
    public static int[] Assign(int families, int folds, long seed)
    {
        RandomStream random = new(seed, RandomPurpose.Folds);
        int[] order = [.. Enumerable.Range(0, families)];
        for (int i = families - 1; i > 0; i--)
        {
            int other = random.NextBelow(i + 1);
            (order[i], order[other]) = (order[other], order[i]);
        }

        int[] fold = new int[families];
        for (int i = 0; i < families; i++)
        {
            fold[order[i]] = i % Math.Min(folds, families);
        }

        return fold;
    }
}
