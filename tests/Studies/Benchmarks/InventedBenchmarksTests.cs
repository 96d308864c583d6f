using System.Collections.Immutable;
using System.Globalization;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Benchmarks;

/// <summary>
/// The invented rows agree with themselves: work of the components against times of whole jobs. All ranges are
/// common practice, no source.
/// </summary>
public class InventedBenchmarksTests
{
    private static readonly ImmutableArray<Dictionary<string, string>> Rows = [.. InventedBenchmarks.Rows().Select(row =>
        InventedBenchmarks.Header().Columns.Zip(row).ToDictionary(c => c.First, c => c.Second))];

    [Fact]
    public void ToCsv_DefaultSeed_IsTheFileInTheRepository() =>
        Assert.Equal(File.ReadAllText(Path.Combine(Outside.Root, "notebooks", "data", "demo-benchmarks.csv")), InventedBenchmarks.ToCsv());

    [Fact]
    public void Header_IsMarkedInvented() => Assert.True(InventedBenchmarks.Header().Invented);

    // Seconds a frame of whole jobs on 32 cores and one GPU at about 4K.
    [Theory]
    [InlineData("raw", "1/2", "none", "proxy", 0.01, 0.05)]
    [InlineData("raw", "1", "none", "mezzanine", 0.03, 0.12)]
    [InlineData("raw", "1", "spatial", "mezzanine", 0.1, 0.4)]
    [InlineData("raw", "1", "temporal", "master", 0.4, 2.5)]
    [InlineData("raw", "1", "none", "exr", 0.08, 0.3)]
    [InlineData("exr", "none", "none", "jpeg2000", 0.15, 1.2)]
    public void Rows_ReferenceNodeAtAbout4K_LieInWholeJobRange(string input, string debayer, string noise, string output, double low, double high)
    {
        double[] seconds = [.. Rows
            .Where(r => r["cores"] == "32" && r["gpu"] == "one" && Megapixels(r, "input") is > 8 and < 9.5)
            .Where(r => r["input_coding"] == input && r["debayer_scale"] == debayer && r["noise_reduction"] == noise && r["output_coding"] == output)
            .Select(r => Number(r, "seconds_per_frame"))];
        Assert.NotEmpty(seconds);
        Assert.All(seconds, s => Assert.InRange(s, low, high));
    }

    // Component work, core-milliseconds per megapixel, over cores × efficiency 0.1 to 0.6; a GPU makes debayer and
    // noise reduction 3 to 15 times faster; reading and writing add at most themselves.
    [Fact]
    public void Rows_ComponentWorkOverCores_ContainsEveryMeasuredTime()
    {
        foreach (Dictionary<string, string> row in Rows)
        {
            (double low, double high) = ComponentWork(row);
            double speed = Number(row, "cores") * Number(row, "clock_ghz") / 3.0;
            double transfer = 1 / Math.Min(800 / Math.Max(Number(row, "read_mb_per_s"), 1e-9), 600 / Math.Max(Number(row, "write_mb_per_s"), 1e-9)) * Number(row, "seconds_per_frame") * 2;
            double seconds = Number(row, "seconds_per_frame");
            Assert.InRange(seconds, low / 1000 / (speed * 0.6), (high / 1000 / (speed * 0.1)) + transfer);
        }
    }

    [Fact]
    public void Rows_WallTime_IsFramesTimesSecondsPlusTaskOverhead() => Assert.All(Rows, r =>
    {
        double overhead = (Number(r, "wall_seconds") - (Number(r, "frames") * Number(r, "seconds_per_frame"))) / Number(r, "tasks");
        Assert.InRange(overhead, 5 - (Number(r, "wall_seconds") * 0.001), 90);
    });

    [Fact]
    public void Rows_OtherSeed_DiffersAndSameSeedRepeats()
    {
        Assert.Equal(InventedBenchmarks.ToCsv(7), InventedBenchmarks.ToCsv(7));
        Assert.NotEqual(InventedBenchmarks.ToCsv(7), InventedBenchmarks.ToCsv(8));
    }

    private static (double Low, double High) ComponentWork(Dictionary<string, string> row)
    {
        double input = Megapixels(row, "input");
        double output = Megapixels(row, "output");
        double low = 0;
        double high = 0;
        void Add(double megapixels, double from, double to, bool onGpu = false)
        {
            low += megapixels * from / (onGpu && row["gpu"] == "one" ? 15 : 1);
            high += megapixels * to / (onGpu && row["gpu"] == "one" ? 3 : 1);
        }

        (double from, double to) = row["debayer_scale"] switch
        {
            "1" => (30.0, 90.0),
            "1/2" => (10.0, 25.0),
            "1/4" => (4.0, 8.0),
            _ => (0.0, 0.0),
        };
        Add(input, from, to, onGpu: true);
        (from, to) = row["noise_reduction"] switch
        {
            "spatial" => (30.0, 120.0),
            "temporal" => (150.0, 600.0),
            _ => (0.0, 0.0),
        };
        Add(input, from, to, onGpu: true);
        (from, to) = row["input_coding"] switch
        {
            "intra" => (4.0, 10.0),
            "long-gop" => (8.0, 20.0),
            "exr" => (1.0, 30.0),
            _ => (0.0, 0.0),
        };
        Add(input, from, to);
        Add(input, 0, 8);
        Add(output, 0, 6);
        Add(output * Number(row, "layers"), 5, 60);
        (from, to) = row["output_coding"] switch
        {
            "jpeg2000" => (120.0, 300.0),
            "exr" => (1.0, 30.0),
            _ => (8.0, 18.0),
        };
        Add(output, from, to);
        return (low, high);
    }

    private static double Megapixels(Dictionary<string, string> row, string side) =>
        Number(row, $"{side}_width") * Number(row, $"{side}_height") / 1e6;

    private static double Number(Dictionary<string, string> row, string column) => double.Parse(row[column], CultureInfo.InvariantCulture);
}
