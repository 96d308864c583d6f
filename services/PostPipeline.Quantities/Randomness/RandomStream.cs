namespace PostPipeline.Quantities.Randomness;

/// <summary>
/// A stream of random numbers named by (seed, purpose, draw, entity). The same name gives the same numbers at
/// any thread count and in any order of use; different names never share a number of the underlying generator.
/// </summary>
/// <remarks>A mutable structure: pass it by reference, or keep it in a field that is not read-only.</remarks>
public struct RandomStream
{
    private readonly uint key0;
    private readonly uint key1;
    private readonly uint purpose;
    private readonly uint draw;
    private readonly uint entity;
    private uint block;
    private int used;
    private (uint X0, uint X1, uint X2, uint X3) words;

    /// <summary>Opens a stream at its start.</summary>
    /// <param name="seed">Any 64-bit seed.</param>
    /// <param name="purpose">What the numbers are for.</param>
    /// <param name="draw">The draw or replication, 0 to 2³²−1.</param>
    /// <param name="entity">The input, task or node, 0 to 2³²−1.</param>
    public RandomStream(long seed, RandomPurpose purpose, long draw = 0, long entity = 0)
    {
        // The seed's bit pattern is the key; a negative seed is as good as any.
        unchecked
        {
            key0 = (uint)seed;
            key1 = (uint)(seed >> 32);
        }

        this.purpose = (uint)purpose;
        this.draw = (uint)Guard.InRange(draw, 0, uint.MaxValue);
        this.entity = (uint)Guard.InRange(entity, 0, uint.MaxValue);
        used = 4;
    }

    /// <summary>The next 32 random bits.</summary>
    public uint NextUInt32()
    {
        if (used == 4)
        {
            words = Philox.Block(block, entity, draw, purpose, key0, key1);
            block = checked(block + 1);
            used = 0;
        }

        return used++ switch
        {
            0 => words.X0,
            1 => words.X1,
            2 => words.X2,
            _ => words.X3,
        };
    }

    /// <summary>A number strictly between 0 and 1 with 52 random bits, so that its logarithm is finite.</summary>
    public double NextUnit()
    {
        ulong high = NextUInt32();
        ulong low = NextUInt32();
        ulong bits = ((high << 32) | low) >> 12;
        return (bits + 0.5) * (1.0 / (1UL << 52));
    }

    /// <summary>A whole number from 0 to <paramref name="count"/> − 1, without bias.</summary>
    /// <param name="count">1 to 2³¹−1.</param>
    public int NextBelow(int count)
    {
        Guard.InRange(count, 1, int.MaxValue);
        uint range = (uint)count;
        uint limit = uint.MaxValue - (uint)((((ulong)uint.MaxValue) + 1) % range);
        uint value;
        do
        {
            value = NextUInt32();
        }
        while (value > limit);
        return (int)(value % range);
    }

    /// <summary>An exponential variate.</summary>
    /// <param name="mean">Above zero.</param>
    public double NextExponential(double mean) => -mean * Math.Log(NextUnit());

    /// <summary>A standard normal variate by inversion: one number in, one number out, so streams stay aligned.</summary>
    public double NextNormal() => NormalDistribution.Quantile(NextUnit());
}
