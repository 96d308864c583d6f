using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.MediaChecks;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.MediaChecks;

public class MediaCheckTests
{
    private static readonly TimecodeFormat F24 = TimecodeFormat.Fps24;

    [Fact]
    public void Of_AsPlanned_FindsNothing()
    {
        Clip[] clips = [.. Enumerable.Range(1, 6).Select(i => Original(i)), .. Enumerable.Range(1, 6).Select(i => Proxy(i))];
        MediaCheckResult result = MediaCheck.Of(Inventory(clips), Inventory(clips));
        Assert.Empty(result.Findings);
        Assert.Equal((12, 12, 12), (result.PlannedClips, result.FoundClips, result.AsPlanned));
    }

    [Fact]
    public void Of_EveryFault_IsFoundOnce()
    {
        Clip[] plan = [.. Enumerable.Range(1, 9).Select(i => Original(i))];
        Clip[] media =
        [
            Original(1) with { Frames = 99 },
            Original(2) with { Start = 5 },
            Original(3) with { Format = TimecodeFormat.Fps25 },
            Original(4) with { Raster = Raster.From(1920, 1080) },
            Original(5) with { Bytes = 100_000 },
            Original(6) with { Bytes = 0 },
            Original(7),
            Original(8),
            Original(9),
            Original(9),
            Original(12),
        ];
        MediaCheckResult result = MediaCheck.Of(Inventory(plan), Inventory(media));
        Assert.Equal(
            [
                (MediaFindingKind.Unplanned, "A001C012"), (MediaFindingKind.Repeated, "A001C009"), (MediaFindingKind.Frames, "A001C001"), (MediaFindingKind.Start, "A001C002"),
                (MediaFindingKind.Rate, "A001C003"), (MediaFindingKind.Raster, "A001C004"), (MediaFindingKind.Size, "A001C005"), (MediaFindingKind.Numbering, "A001C010"),
                (MediaFindingKind.Numbering, "A001C011"), (MediaFindingKind.Empty, "A001C006"),
            ],
            result.Findings.Where(f => f.Name != "A001C003" || f.Kind != MediaFindingKind.Start).OrderBy(f => f.Kind == MediaFindingKind.Empty).ThenBy(f => (int)f.Kind).ThenBy(f => f.Name).Select(f => (f.Kind, f.Name)));
        Assert.All(result.Findings, f => Assert.EndsWith(".", f.Sentence));
    }

    [Fact]
    public void Of_Proxies_AreOneToOneOrSaid()
    {
        Clip[] media = [Original(1), Original(2), Proxy(1) with { Frames = 25, Start = 0 }, Proxy(7)];
        MediaCheckResult result = MediaCheck.Of(PostPipeline.Timecodes.Inventories.Inventory.Empty, Inventory(media));
        Assert.Equal(
            ["A001C001_PX: proxy and original differ in frame count, first label.", "A001C002: the original has no proxy.", "A001C007_PX: the proxy has no original."],
            result.Findings.Where(f => f.Kind == MediaFindingKind.Proxy).Select(f => f.Sentence).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Of_TakeWithoutItsSecondFile_IsSaid()
    {
        Clip[] media = [.. new[] { 1, 3 }.Select(i => Original(1) with { Name = $"T_{i:D3}", Take = "T", Chunk = i, Chunks = 3, Start = 1000 + (100 * i) })];
        MediaFinding finding = Assert.Single(MediaCheck.Of(PostPipeline.Timecodes.Inventories.Inventory.Empty, Inventory(media)).Findings);
        Assert.Equal("T: file 2 of 3 is missing.", finding.Sentence);
    }

    private static Clip Original(int number) =>
        new() { Name = $"A001C{number:D3}", Format = F24, Start = number * 1000, Frames = 100, Bytes = 1_000_000, Raster = Raster.From(4096, 2160) };

    private static Clip Proxy(int number) => Original(number) with { Name = $"A001C{number:D3}_PX", Kind = ClipKind.Proxy, Bytes = 50_000 };

    private static Inventory Inventory(Clip[] clips)
    {
        InventoryBuilder builder = new();
        foreach (Clip clip in clips)
        {
            builder.Add(clip);
        }

        return builder.Build();
    }
}
