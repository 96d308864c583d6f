using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>Messages that several tests of the footage host send. Clip R: common practice, no source; see the domain's tests.</summary>
internal static class FootageSamples
{
    public static RateItem ClipR() => new()
    {
        Coding = new() { Raw = new() { BitDepth = 12, CompressionRatio = new() { Numerator = 3, Denominator = 1 } } },
        Raster = new() { Width = 4096, Height = 2160 },
        SensorRate = Rate(24),
        ProjectRate = Rate(24),
    };

    public static RecordingItem Recording(long bytes, int rate, int megabytes) => new()
    {
        BytesPerFrame = bytes,
        SensorRate = Rate(rate),
        ProjectRate = Rate(24),
        Medium = new() { CapacityBytes = 512_000_000_000, RatedBytesPerSecond = new() { Numerator = megabytes * 1_000_000L, Denominator = 1 } },
    };

    public static OffloadMeans Means(int stations) => new()
    {
        Stations = stations,
        ReaderBytesPerSecond = 800e6,
        Verify = VerifyLevel.Destinations,
        SpareCards = 1,
        Destinations =
        {
            new Destination { Label = "first", SustainedBytesPerSecond = 1200e6 }, new Destination { Label = "second", SustainedBytesPerSecond = 450e6 },
            new Destination { Label = "third", SustainedBytesPerSecond = 250e6 },
        },
    };

    public static FrameRate Rate(int framesPerSecond) => new() { Numerator = framesPerSecond, Denominator = 1 };

    public static IEnumerable<Derivation> Nodes(Derivation tree) => tree.Inputs.SelectMany(Nodes).Append(tree);
}
