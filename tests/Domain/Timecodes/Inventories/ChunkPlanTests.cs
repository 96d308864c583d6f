using PostPipeline.Timecodes.Inventories;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Inventories;

public class ChunkPlanTests
{
    // Worked example (common practice, no source): FAT32 holds 970 frames of the reference clip (4,423,680 B a frame); a
    // 12-minute take at 24 (17,280 frames) is 18 chunks, the last of 790 frames.
    [Fact]
    public void For_Fat32_GivesTheWorkedExample() =>
        Assert.Equal(new ChunkPlan(970, 18, 790), ChunkPlan.For(17_280, 4_423_680, ChunkPlan.Fat32MaximumBytes));

    [Theory]
    [InlineData(970, 1, 970)]
    [InlineData(971, 2, 1)]
    [InlineData(1, 1, 1)]
    public void For_EveryBorder_IsExact(long frames, long chunks, long last) =>
        Assert.Equal(new ChunkPlan(970, chunks, last), ChunkPlan.For(frames, 4_423_680, ChunkPlan.Fat32MaximumBytes));

    [Fact]
    public void For_Groups_CutsOnGroupBorders() =>
        Assert.Equal(960, ChunkPlan.For(17_280, 4_423_680, ChunkPlan.Fat32MaximumBytes, 12).FramesPerChunk);

    [Fact]
    public void For_FrameLargerThanTheFile_IsRefused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ChunkPlan.For(10, 5L << 30, ChunkPlan.Fat32MaximumBytes));
}
