namespace PostPipeline.Footage.Codings;

/// <summary>How uncompressed values lie in bytes.</summary>
public enum Packing
{
    /// <summary>Values bit after bit, without gaps.</summary>
    Tight = 0,

    /// <summary>Each value in whole bytes: 8 bits in one, 9 to 16 in two, up to 32 in four.</summary>
    WholeBytes = 1,

    /// <summary>Three 10-bit values in a 32-bit word, two bits unused (SMPTE ST 268).</summary>
    ThreeIn32 = 2,

    /// <summary>10-bit 4:2:2 in groups of 48 pixels and 128 bytes; a row is a whole number of groups.</summary>
    Groups128 = 3,
}
