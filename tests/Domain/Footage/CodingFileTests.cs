using PostPipeline.Footage.Codings;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

public class CodingFileTests
{
    [Fact]
    public void Read_OwnFile_AddsAndReplaces()
    {
        const string Text = """
            # what our own camera makes
            id,title,kind,bit_depth,bits_per_pixel_low,bits_per_pixel,bits_per_pixel_peak,sampling,source
            house-intra,"House, intra",bits-per-pixel,10,2.5,3.5,18/5,4:2:2,"measured on forty of our own clips, in ""house"" light"
            raw-12,House raw,photosites,12,,,,,our own card
            """;
        Assert.Empty(CodingFile.Read(Text, out IReadOnlyList<Coding> own));
        CodingCatalogue all = CodingCatalogue.Standard.With(own);
        FrameBytes bytes = all.Find("house-intra").BytesPerFrame(Raster.From(1920, 1080), FrameRate.Fps24);
        Assert.Equal((648_000, 907_200, 933_120), (bytes.Low, bytes.Average, bytes.Peak));
        Assert.Equal("measured on forty of our own clips, in \"house\" light", all.Find("house-intra").Source);
        Assert.Equal("our own card", all.Find("raw-12").Source);
        Assert.Equal(CodingCatalogue.Standard.Codings.Count + 1, all.Codings.Count);
    }

    [Theory]
    [InlineData("", "line 1, column 1: the file is empty; it starts with a row of column names such as id,kind,source")]
    [InlineData("id,kind,colour,source", "line 1, column 9, colour: is not a column; allowed are ")]
    [InlineData("id,kind", "line 1, column 1, source: is missing from the header")]
    [InlineData("id,id,kind,source", "line 1, column 4, id: stands twice in the header")]
    [InlineData("id,kind,source,bit_depth\nraw-x,photosites,ours,99", "line 2, column 23, bit_depth: is 99; allowed is 1 to 32")]
    [InlineData("id,kind,source,bit_depth\nraw-x,photosites,ours,ten", "line 2, column 23, bit_depth: is 'ten'; allowed is a whole number")]
    [InlineData("id,kind,source,bit_depth\nraw-x,photo,ours,10", "line 2, column 7, kind: is 'photo'; allowed are packed, photosites")]
    [InlineData("id,kind,source,bit_depth\nraw-x,photosites,,10", "line 2, column 18, source: is missing")]
    [InlineData("id,kind,source,bit_depth\nRaw X,photosites,ours,10", "line 2, column 1, id: 'Raw X' is not a name")]
    [InlineData("id,kind,source,bit_depth\nx,photosites,ours", "line 2, column 1: the row has 3 cells; the header has 4")]
    [InlineData("id,kind,source,bit_depth\nx,photosites,\"ours,10", "line 2, column 14: a quotation mark opens here")]
    [InlineData("id,kind,source,bit_depth,frame_bytes\nx,photosites,ours,10,99", "line 2, column 22, frame_bytes: means nothing for a coding of kind photosites")]
    [InlineData("id,kind,source,bit_depth\nx,photosites,ours,10\nx,photosites,ours,12", "line 3, column 1, id: 'x' stands twice in the file")]
    [InlineData("id,kind,source,bits_per_pixel_low,bits_per_pixel\nx,bits-per-pixel,ours,3,2", "line 2, column 25, bits_per_pixel: is 2; allowed is between the least (3) and the most (2)")]
    public void Read_Wrong_SaysLineColumnFieldValueAndWhatIsAllowed(string text, string expected)
    {
        IReadOnlyList<FileProblem> problems = CodingFile.Read(text, out IReadOnlyList<Coding> codings);
        Assert.Empty(codings);
        Assert.Contains(problems, p => p.ToString().StartsWith(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void Read_SeveralFaults_AreAllReportedAndNothingIsRead()
    {
        const string Text = "id,kind,source,bit_depth\ngood,photosites,ours,10\nx,photosites,ours,99\ny,none,ours,10";
        IReadOnlyList<FileProblem> problems = CodingFile.Read(Text, out IReadOnlyList<Coding> codings);
        Assert.Empty(codings);
        Assert.Equal([3, 4], problems.Select(p => p.Line));
    }

    [Fact]
    public void Find_UnknownName_NamesNearOnes()
    {
        ArgumentException thrown = Assert.Throws<ArgumentException>(() => CodingCatalogue.Standard.Find("raw-13"));
        Assert.Contains("raw-12", thrown.Message, StringComparison.Ordinal);
    }
}
