using PostPipeline.Quantities.Randomness;
using Xunit;

namespace PostPipeline.Domain.Tests.Quantities;

public class PhiloxTests
{
    // Source: the known-answer vectors published with Random123 (Salmon et al., SC 2011) for philox4x32, 10 rounds.
    // Value from memory.
    [Theory]
    [InlineData(0u, 0u, 0u, 0u, 0u, 0u, 0x6627e8d5u, 0xe169c58du, 0xbc57ac4cu, 0x9b00dbd8u)]
    [InlineData(uint.MaxValue, uint.MaxValue, uint.MaxValue, uint.MaxValue, uint.MaxValue, uint.MaxValue, 0x408f276du, 0x41c83b0eu, 0xa20bc7c6u, 0x6d5451fdu)]
    [InlineData(0x243f6a88u, 0x85a308d3u, 0x13198a2eu, 0x03707344u, 0xa4093822u, 0x299f31d0u, 0xd16cfe09u, 0x94fdccebu, 0x5001e420u, 0x24126ea1u)]
    public void Block_PublishedCounterAndKey_GivesPublishedWords(
        uint c0, uint c1, uint c2, uint c3, uint k0, uint k1, uint x0, uint x1, uint x2, uint x3) =>
        Assert.Equal((x0, x1, x2, x3), Philox.Block(c0, c1, c2, c3, k0, k1));
}
