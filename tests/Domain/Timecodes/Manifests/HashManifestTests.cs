using System.Text;
using CsCheck;
using PostPipeline.Timecodes.Manifests;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Manifests;

/// <summary>Hash lists: the open ASC MHL form (element names from memory) and the text of general checksum tools.</summary>
public class HashManifestTests
{
    private static readonly int Count = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 1_000_000 : 10_000;

    private static readonly byte[] Xml = """
        <?xml version="1.0" encoding="UTF-8"?>
        <hashlist version="2.0" xmlns="urn:ASC:MHL:v2.0">
          <creatorinfo><creationdate>2031-05-02T20:00:00+02:00</creationdate></creatorinfo>
          <hashes>
            <hash><path size="5" lastmodificationdate="2031-05-02T19:00:00+02:00">Clips/A001_C001.mov</path><xxh64 action="original" hashdate="2031-05-02T20:00:00+02:00">0ea03b369a463d9d</xxh64></hash>
            <hash><path size="7">Clips/A001_C002.mov</path><md5 action="original">9ddfe2c5a9b0a5d5c1f0d2a6cf0b3e11</md5></hash>
            <directoryhash><path>Clips</path><content><xxh64>ef46db3751d8e999</xxh64></content></directoryhash>
          </hashes>
        </hashlist>
        """u8.ToArray();

    private static readonly byte[] FirstVersion = """
        <?xml version="1.0"?><hashlist version="1.1"><hash><file>A.mov</file><size>12</size><xxhash64be>0ea03b369a463d9d</xxhash64be></hash></hashlist>
        """u8.ToArray();

    private static readonly byte[] Text = """
        # made on the day
        d41d8cd98f00b204e9800998ecf8427e  Clips/EMPTY.mov
        da39a3ee5e6b4b0d3255bfef95601890afd80709 *B.mov
        XXH64 (C D.mov) = ef46db3751d8e999
        """u8.ToArray();

    [Fact]
    public void Read_XmlHashList_HasPathsSizesAndHashes()
    {
        HashManifest manifest = HashManifest.Read(Xml);
        Assert.Empty(manifest.Problems);
        Assert.Equal(
            [new ManifestEntry("Clips/A001_C001.mov", 5, "xxh64", "0ea03b369a463d9d"), new ManifestEntry("Clips/A001_C002.mov", 7, "md5", "9ddfe2c5a9b0a5d5c1f0d2a6cf0b3e11")],
            manifest.Entries.AsEnumerable());
        Assert.Equal(new ManifestEntry("A.mov", 12, "xxhash64be", "0ea03b369a463d9d"), Assert.Single(HashManifest.Read(FirstVersion).Entries));
    }

    [Fact]
    public void Read_ChecksumText_TakesBothForms()
    {
        HashManifest manifest = HashManifest.Read(Text);
        Assert.Empty(manifest.Problems);
        Assert.Equal([("Clips/EMPTY.mov", "md5"), ("B.mov", "sha1"), ("C D.mov", "xxh64")], manifest.Entries.Select(e => (e.Path, e.Algorithm)));
    }

    [Fact]
    public void Read_WrongLine_SaysWhere()
    {
        ManifestProblem problem = Assert.Single(HashManifest.Read("d41d8cd98f00b204e9800998ecf8427e  A\nnonsense\n"u8).Problems);
        Assert.Equal((2, 1), (problem.Line, problem.Column));
        Assert.NotEmpty(HashManifest.Read("<hashlist><hash>"u8).Problems);
    }

    // Found by a long run of mutations: a byte beyond ASCII in the declaration.
    [Fact]
    public void Read_DeclarationWithAStrayByte_IsRefusedWithAPlace()
    {
        byte[] list = [.. "<?xml version=\"1.0"u8, 200, .. "\"?><hashlist/>"u8];
        Assert.Contains("UTF-8", Assert.Single(HashManifest.Read(list).Problems).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_DocumentType_IsRefused() =>
        Assert.NotEmpty(HashManifest.Read("<!DOCTYPE a [<!ENTITY b \"c\">]><hashlist>&b;</hashlist>"u8).Problems);

    [Fact]
    public void CompareWith_Files_TellsMissingExtraEmptyAndDifferent()
    {
        Completeness complete = HashManifest.Read(Xml).CompareWith([new("Clips/A001_C001.mov", 5, "0EA03B369A463D9D"), new("./Clips/A001_C002.mov", 7, null)]);
        Assert.True(complete.IsComplete);
        Assert.Equal(1, complete.HashesCompared);
        Completeness wrong = HashManifest.Read(Xml).CompareWith([new("Clips/A001_C001.mov", 0, null), new("Clips/OTHER.mov", 9, null)]);
        Assert.Equal(["Clips/A001_C002.mov"], wrong.Missing.AsEnumerable());
        Assert.Equal(["Clips/OTHER.mov"], wrong.Extra.AsEnumerable());
        Assert.Equal(["Clips/A001_C001.mov"], wrong.Empty.AsEnumerable());
        Assert.False(wrong.IsComplete);
        Assert.Single(HashManifest.Read(Xml).CompareWith([new("Clips/A001_C001.mov", 6, null)]).SizeDiffers);
        Assert.Single(HashManifest.Read(Xml).CompareWith([new("Clips/A001_C001.mov", 5, "ffff")]).HashDiffers);
    }

    [Fact]
    public void Read_RandomBytes_GivesAResultOrAPlace() => Gen.Byte.Array[0, 200].Sample(AnswersSensibly, iter: Count);

    [Fact]
    public void Read_MutatedManifest_GivesAResultOrAPlace() => Mutations.Of([Xml, FirstVersion, Text]).Sample(AnswersSensibly, iter: Count);

    private static bool AnswersSensibly(byte[] bytes) =>
        HashManifest.Read(bytes).Problems.All(p => p.Line >= 1 && p.Column >= 1 && p.Message.Length > 0);
}
