using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms.Simulations;

/// <summary>
/// Random numbers of one task, straight from the generator's block: the same numbers as a stream opened for (seed,
/// purpose, replication, task), without keeping a stream for each of ten million tasks.
/// </summary>
internal static class TaskRandom
{
    /// <summary>Two numbers strictly between 0 and 1 from one block of a stream.</summary>
    /// <param name="seed">The seed.</param>
    /// <param name="purpose">What they are for.</param>
    /// <param name="replication">The replication.</param>
    /// <param name="entity">The task, node or class.</param>
    /// <param name="block">The block of the stream, from 0.</param>
    public static (double First, double Second) Units(long seed, RandomPurpose purpose, int replication, int entity, int block)
    {
        // The seed's bit pattern is the key.
        unchecked
        {
            var (x0, x1, x2, x3) = Philox.Block((uint)block, (uint)entity, (uint)replication, (uint)purpose, (uint)seed, (uint)(seed >> 32));
            return (Unit(x0, x1), Unit(x2, x3));
        }
    }

    // 52 bits fit a signed number, which turns into a double faster than an unsigned one.
    private static double Unit(uint high, uint low) => unchecked((long)((((ulong)high << 32) | low) >> 12) + 0.5) * (1.0 / (1UL << 52));
}
