using System.Text;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class LabelBatchTests
{
    private static readonly TimecodeFormat Drop = TimecodeFormat.Fps30000Over1001Drop;

    [Fact]
    public void FormatThenParse_ManyFrames_GivesThemBack()
    {
        foreach (TimecodeFormat format in new[] { Drop, TimecodeFormat.From(FrameRate.From(120000, 1001), true) })
        {
            long[] indexes = [.. Enumerable.Range(0, 10_000).Select(i => i * 257L)];
            byte[] labels = new byte[indexes.Length * format.LabelLength];
            char[] characters = new char[labels.Length];
            LabelBatch.Format(format, indexes, labels);
            LabelBatch.Format(format, indexes, characters);
            Assert.Equal(Encoding.ASCII.GetString(labels), new string(characters));
            Assert.Equal(Timecode.FromFrames(257, format).ToString(), new string(characters, format.LabelLength, format.LabelLength));

            long[] back = new long[indexes.Length];
            LabelError[] errors = new LabelError[indexes.Length];
            Assert.Equal(0, LabelBatch.Parse(format, labels, format.LabelLength, back, errors));
            Assert.Equal(indexes.Select(format.Wrap), back);
        }
    }

    [Fact]
    public void Parse_WrongRowsAmongGoodOnes_LeavesTheGoodOnes()
    {
        byte[] rows = Encoding.ASCII.GetBytes("00:00:00;02 00:01:00;00 nonsense    1:00:00:00  ");
        long[] indexes = new long[4];
        LabelError[] errors = new LabelError[4];
        Assert.Equal(2, LabelBatch.Parse(Drop, rows, 12, indexes, errors));
        Assert.Equal([2, LabelBatch.NoFrame, LabelBatch.NoFrame, 107_892], indexes);
        Assert.Equal([LabelFault.None, LabelFault.Dropped, LabelFault.Form, LabelFault.None], errors.Select(e => e.Fault));
        Assert.Equal(1, LabelBatch.Parse(Drop, rows, 12, indexes, errors, DroppedLabels.SnapForward));
        Assert.Equal(1_800, indexes[1]);
    }

    [Fact]
    public void FormatAndParse_TooLittleRoomOrPartRows_AreRefused()
    {
        Assert.Throws<ArgumentException>(() => LabelBatch.Format(Drop, [1, 2], new byte[21]));
        Assert.Throws<ArgumentException>(() => LabelBatch.Parse(Drop, new byte[13], 12, new long[2], new LabelError[2]));
        Assert.Throws<ArgumentException>(() => LabelBatch.Parse(Drop, new byte[24], 12, new long[1], new LabelError[2]));
        Assert.Throws<ArgumentException>(() => LabelBatch.Parse(Drop, new byte[24], 12, new long[2], new LabelError[1]));
    }
}
