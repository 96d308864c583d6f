using System.Text;
using PostPipeline.Studies.Briefs;
using Xunit;

namespace PostPipeline.Studies.Tests.Briefs;

public sealed class BriefTextTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("brief").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Read_Folder_SaysSo() => Refused(folder, "this is a folder");

    [Fact]
    public void Read_MissingFile_SaysSo() => Refused(Path.Combine(folder, "none.yaml"), "the file is not there");

    [Theory]
    [InlineData("")]
    [InlineData("  \n\n")]
    public void Read_EmptyFile_SaysSo(string content) => Refused(Write(Encoding.UTF8.GetBytes(content)), "the file is empty");

    [Fact]
    public void ReadFile_OnlyAComment_SaysEmpty() =>
        Assert.Contains("empty", Assert.Throws<BriefException>(() => BriefReader.ReadFile(Write("# nothing\n"u8.ToArray()))).Message, StringComparison.Ordinal);

    [Fact]
    public void Read_TwoHundredMegabytes_IsRefusedBySizeWithoutReading()
    {
        string path = Path.Combine(folder, "big.yaml");
        using (FileStream stream = File.Create(path))
        {
            stream.SetLength(200_000_000);
        }

        long before = GC.GetAllocatedBytesForCurrentThread();
        Refused(path, "200000000 bytes; allowed is at most 1000000");
        Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 1_000_000);
    }

    [Fact]
    public void Read_NotUtf8_NamesLineColumnAndByte()
    {
        BriefException error = Assert.Throws<BriefException>(() => BriefText.Read(Write([(byte)'a', (byte)':', (byte)'\n', (byte)'b', 0xFF])));
        BriefProblem problem = Assert.Single(error.Problems);
        Assert.Equal((2, 2, "0xFF"), (problem.Line, problem.Column, problem.Value));
    }

    [Fact]
    public void Read_ByteOrderMark_IsLeftOut() => Assert.Equal("a: 1", BriefText.Read(Write([0xEF, 0xBB, 0xBF, .. "a: 1"u8])));

    private static void Refused(string path, string says) =>
        Assert.Contains(says, Assert.Throws<BriefException>(() => BriefText.Read(path)).Message, StringComparison.Ordinal);

    private string Write(byte[] content)
    {
        string path = Path.Combine(folder, "b.yaml");
        File.WriteAllBytes(path, content);
        return path;
    }
}
