namespace PostPipeline.Timecodes.Labels;

/// <summary>
/// Divisions by the three divisors of a format as one multiplication each. With m = ⌈2⁶⁴/d⌉ and n, d below 2³²,
/// ⌊n·m/2⁶⁴⌋ is ⌊n/d⌋ exactly (Granlund and Montgomery, "Division by invariant integers using
/// multiplication", 1994; Lemire, Kaser and Kurz, 2019).
/// </summary>
internal readonly struct LabelDivisions
{
    private readonly ulong tenMinutes;
    private readonly ulong minute;
    private readonly ulong second;

    /// <summary>Works out the reciprocals of a format.</summary>
    public LabelDivisions(TimecodeFormat format)
    {
        Fits = format.Nominal > 1 && format.LabelsPerDay <= int.MaxValue;
        if (Fits)
        {
            tenMinutes = Reciprocal(format.FramesPerTenMinutes);
            minute = Reciprocal(format.FramesPerMinute);
            second = Reciprocal(format.Nominal);
        }
    }

    /// <summary>Whether every number of the format's day fits 31 bits; if not, the plain way is taken.</summary>
    public bool Fits { get; }

    /// <summary>Divides by the frames of ten minutes.</summary>
    public uint ByTenMinutes(uint frames) => (uint)Math.BigMul(frames, tenMinutes, out _);

    /// <summary>Divides by the frames of a minute that leaves labels out.</summary>
    public uint ByMinute(uint frames) => (uint)Math.BigMul(frames, minute, out _);

    /// <summary>Divides by the frames of a second.</summary>
    public uint BySecond(uint labels) => (uint)Math.BigMul(labels, second, out _);

    private static ulong Reciprocal(long divisor) => (ulong.MaxValue / (ulong)divisor) + 1;
}
