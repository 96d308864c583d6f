using System.Buffers.Binary;
using System.Numerics;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Studies.Sensitivities;

/// <summary>
/// Sobol' points (Sobol' 1967, in the Gray-code order of Antonov and Saleev 1979) with Owen's nested scrambling (Owen
/// 1995, by the hash of Laine and Karras 2011). Each coordinate belongs to a primitive polynomial over GF(2), found here;
/// its first direction numbers are odd and drawn at random, which any Sobol' sequence may do.
/// </summary>
/// <remarks>Scrambled points are uniform one by one, so that independent scrambles give independent unbiased estimates.</remarks>
public sealed class SobolPoints
{
    /// <summary>The most coordinates.</summary>
    public const int MaximumDimensions = 400;

    private const int Bits = 32;

    // The draw of direction numbers is part of the sequence, not of a scramble, so its seed is fixed.
    private const long DirectionSeed = 1967;
    private readonly uint[][] directions;
    private readonly uint[] state;
    private readonly uint[] scramble;
    private uint index;

    /// <summary>Starts the points.</summary>
    /// <param name="dimensions">1 to <see cref="MaximumDimensions"/>.</param>
    /// <param name="seed">Seed of the scrambling.</param>
    /// <param name="replicate">Number of the scramble.</param>
    public SobolPoints(int dimensions, long seed, int replicate = 0)
    {
        Guard.InRange(dimensions, 1, MaximumDimensions);
        directions = Directions(dimensions);
        state = new uint[dimensions];
        scramble = new uint[dimensions];
        for (int d = 0; d < dimensions; d++)
        {
            RandomStream stream = new(seed, RandomPurpose.Scrambling, replicate, d);
            scramble[d] = stream.NextUInt32();
        }
    }

    /// <summary>The next point, each coordinate strictly between 0 and 1.</summary>
    /// <param name="point">Receives the coordinates.</param>
    public void Next(Span<double> point)
    {
        for (int d = 0; d < state.Length; d++)
        {
            point[d] = (Scrambled(state[d], scramble[d]) + 0.5) * (1.0 / (1UL << Bits));
        }

        int changed = BitOperations.TrailingZeroCount(~index);
        index = checked(index + 1);
        for (int d = 0; d < state.Length && changed < Bits; d++)
        {
            state[d] ^= directions[d][changed];
        }
    }

    // In reversed bit order a carry only moves from high bits to low ones, so each bit is flipped by a hash of those above it.
    private static uint Scrambled(uint value, uint seed)
    {
        uint x = Reverse(value);
        unchecked
        {
            x += seed;
            x ^= x * 0x6c50b47cu;
            x ^= x * 0xb82f1e52u;
            x ^= x * 0xc7afe638u;
            x ^= x * 0x8d22f6e6u;
        }

        return Reverse(x);
    }

    private static uint Reverse(uint value)
    {
        value = ((value >> 1) & 0x55555555) | ((value & 0x55555555) << 1);
        value = ((value >> 2) & 0x33333333) | ((value & 0x33333333) << 2);
        value = ((value >> 4) & 0x0F0F0F0F) | ((value & 0x0F0F0F0F) << 4);
        return BinaryPrimitives.ReverseEndianness(value);
    }

    private static uint[][] Directions(int dimensions)
    {
        uint[][] all = new uint[dimensions][];
        all[0] = [.. Enumerable.Range(0, Bits).Select(i => 1u << (Bits - 1 - i))];
        IEnumerator<uint> polynomials = PrimitivePolynomials().GetEnumerator();
        for (int d = 1; d < dimensions; d++)
        {
            polynomials.MoveNext();
            all[d] = Directions(polynomials.Current, d);
        }

        return all;
    }

    // m(k) = 2·a(1)·m(k−1) ⊕ 4·a(2)·m(k−2) ⊕ … ⊕ 2^s·m(k−s) ⊕ m(k−s), with odd m(1) … m(s) below 2^k.
    private static uint[] Directions(uint polynomial, int dimension)
    {
        int degree = BitOperations.Log2(polynomial);
        ulong[] m = new ulong[Bits + 1];
        RandomStream stream = new(DirectionSeed, RandomPurpose.Scrambling, 0, dimension);
        for (int k = 1; k <= degree; k++)
        {
            m[k] = k == 1 ? 1 : (ulong)((2 * stream.NextBelow(1 << (k - 1))) + 1);
        }

        for (int k = degree + 1; k <= Bits; k++)
        {
            m[k] = m[k - degree] ^ (m[k - degree] << degree);
            for (int i = 1; i < degree; i++)
            {
                m[k] ^= ((polynomial >> (degree - i)) & 1) == 1 ? m[k - i] << i : 0;
            }
        }

        return [.. Enumerable.Range(1, Bits).Select(k => unchecked((uint)(m[k] << (Bits - k))))];
    }

    // A polynomial of degree s is primitive where x has the order 2^s − 1 modulo it.
    private static IEnumerable<uint> PrimitivePolynomials()
    {
        for (int degree = 1; degree <= 12; degree++)
        {
            for (uint inner = 0; inner < 1u << (degree - 1); inner++)
            {
                uint polynomial = (1u << degree) | (inner << 1) | 1;
                if (Order(polynomial, degree) == (1u << degree) - 1)
                {
                    yield return polynomial;
                }
            }
        }
    }

    private static uint Order(uint polynomial, int degree)
    {
        uint x = degree == 1 ? 1u : 2u;
        uint order = 1;
        while (x != 1 && order < 1u << degree)
        {
            x <<= 1;
            x = (x >> degree) != 0 ? x ^ polynomial : x;
            order++;
        }

        return order;
    }
}
