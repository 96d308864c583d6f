using System.Runtime.CompilerServices;

namespace PostPipeline.Farms.Simulations;

/// <summary>
/// A tournament among keys that hold an instant and a node's number: entry p of the losers holds the loser of the match at p,
/// and the winner of all stands apart. The winner gets a new key and plays its way up again, one match a level, without a
/// branch that depends on the keys.
/// </summary>
internal static class NodeTournament
{
    /// <summary>Bits of a key that hold the node's number; those above hold the instant.</summary>
    public const int NodeBits = 12;

    /// <summary>Mask of the node's number.</summary>
    public const int NodeMask = (1 << NodeBits) - 1;

    /// <summary>The number of leaves for so many nodes: a power of two.</summary>
    public static int Leaves(int nodes)
    {
        int leaves = 1;
        while (leaves < nodes)
        {
            leaves *= 2;
        }

        return leaves;
    }

    /// <summary>Plays all matches and returns the winner.</summary>
    /// <param name="winners">Twice as many entries as leaves; the keys in the upper half, the lower half for use here.</param>
    /// <param name="losers">As many entries as leaves; filled here.</param>
    public static long Play(long[] winners, long[] losers)
    {
        for (int p = losers.Length - 1; p >= 1; p--)
        {
            losers[p] = Math.Max(winners[2 * p], winners[(2 * p) + 1]);
            winners[p] = Math.Min(winners[2 * p], winners[(2 * p) + 1]);
        }

        return winners[1];
    }

    /// <summary>Gives the winner's node a new key and returns the new winner.</summary>
    /// <param name="losers">The matches.</param>
    /// <param name="key">The new key, from 0.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static long Replay(long[] losers, long key)
    {
        // Keys lie between 0 and 2⁶³ − 1, so differences do not overflow, and their sign picks loser and winner. A key holds
        // instant and number, so one comparison settles ties too.
        unchecked
        {
            for (int p = ((int)(key & NodeMask) + losers.Length) >> 1; p > 0; p >>= 1)
            {
                long other = losers[p];
                long less = (other - key) & ((other - key) >> 63);
                losers[p] = other - less;
                key += less;
            }
        }

        return key;
    }

    /// <summary>
    /// The same with a branch a match, for tasks that take equally long: then nodes come round in much the same order and the
    /// processor foresees the branches, which is quicker than to wait for each match's sum.
    /// </summary>
    /// <param name="losers">The matches.</param>
    /// <param name="key">The new key, from 0.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static long ReplayEven(long[] losers, long key)
    {
        for (int p = ((int)(key & NodeMask) + losers.Length) >> 1; p > 0; p >>= 1)
        {
            long other = losers[p];
            losers[p] = Math.Max(other, key);
            key = Math.Min(other, key);
        }

        return key;
    }
}
