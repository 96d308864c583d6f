namespace PostPipeline.Footage.Codings;

/// <summary>Whole parts of products of whole numbers, exact; 64-bit where the product fits, 128-bit where not.</summary>
internal static class Scaled
{
    /// <summary>⌊a·b ÷ d⌋ of numbers that are not negative.</summary>
    public static long Down(long a, long b, long d)
    {
        ulong high = Math.BigMul((ulong)a, (ulong)b, out ulong low);
        return high == 0 ? checked((long)(low / (ulong)d)) : checked((long)(new UInt128(high, low) / (ulong)d));
    }

    /// <summary>⌈a·b ÷ d⌉ of numbers that are not negative.</summary>
    public static long Up(long a, long b, long d)
    {
        // Most rates are whole numbers, and a division costs more than all the rest.
        if (d == 1)
        {
            return checked(a * b);
        }

        ulong high = Math.BigMul((ulong)a, (ulong)b, out ulong low);
        if (high == 0)
        {
            (ulong whole, ulong rest) = Math.DivRem(low, (ulong)d);
            return checked((long)(whole + (rest == 0 ? 0UL : 1UL)));
        }

        (UInt128 wide, UInt128 left) = UInt128.DivRem(new UInt128(high, low), (ulong)d);
        return checked((long)(wide + (left == 0 ? UInt128.Zero : UInt128.One)));
    }
}
