namespace PostPipeline.Quantities.Randomness;

/// <summary>
/// Philox4x32-10, a counter-based generator: each block of four words is a pure function of key and counter, so
/// any number can be had without the ones before it, on any thread. Algorithm and known answers: Salmon, Moraes,
/// Dror and Shaw, Parallel Random Numbers: As Easy as 1, 2, 3, SC 2011.
/// </summary>
public static class Philox
{
    private const uint MultiplierA = 0xD2511F53;
    private const uint MultiplierB = 0xCD9E8D57;
    private const uint WeylA = 0x9E3779B9;
    private const uint WeylB = 0xBB67AE85;

    /// <summary>The block for a counter of four words under a key of two.</summary>
    /// <param name="c0">First counter word.</param>
    /// <param name="c1">Second counter word.</param>
    /// <param name="c2">Third counter word.</param>
    /// <param name="c3">Fourth counter word.</param>
    /// <param name="k0">First key word.</param>
    /// <param name="k1">Second key word.</param>
    public static (uint X0, uint X1, uint X2, uint X3) Block(uint c0, uint c1, uint c2, uint c3, uint k0, uint k1)
    {
        // Arithmetic modulo 2³² is the algorithm itself.
        unchecked
        {
            for (int round = 0; round < 10; round++)
            {
                ulong productA = (ulong)MultiplierA * c0;
                ulong productB = (ulong)MultiplierB * c2;
                (c0, c1, c2, c3) = ((uint)(productB >> 32) ^ c1 ^ k0, (uint)productB, (uint)(productA >> 32) ^ c3 ^ k1, (uint)productA);
                k0 += WeylA;
                k1 += WeylB;
            }
        }

        return (c0, c1, c2, c3);
    }
}
