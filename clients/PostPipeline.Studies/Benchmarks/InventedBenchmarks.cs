using System.Collections.Immutable;
using System.Globalization;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Studies.Benchmarks;

/// <summary>
/// The invented benchmark rows of the demonstration: fourteen invented projects on three invented node classes.
/// They are made from invented work per megapixel of each step and serve the demonstration only; whatever rests
/// on them says so. The same seed makes the same rows.
/// </summary>
/// <remarks>
/// Work per megapixel lies within ranges that are common practice (no source); work ÷ (cores × efficiency) lies
/// within the whole-job ranges of common practice for 32 cores, one GPU and about 4K. A test holds both.
/// </remarks>
public static class InventedBenchmarks
{
    /// <summary>The seed of the rows in the repository.</summary>
    public const long DefaultSeed = 20_260_101;

    /// <summary>Repeats of each measurement.</summary>
    public const int Repeats = 3;

    private const double GpuDebayer = 4;
    private const double GpuNoiseReduction = 3.5;
    private const double ReadMegabytesPerSecond = 800;
    private const double WriteMegabytesPerSecond = 600;

    private static readonly ImmutableArray<string> Columns =
    [
        "id", "project", "date", "node_class", "cores", "clock_ghz", "ram_gb", "gpu", "vram_gb", "build",
        "input_coding", "input_width", "input_height", "input_bit_depth", "input_bits_per_pixel", "debayer_scale",
        "noise_reduction", "layers", "output_coding", "output_width", "output_height", "output_bit_depth",
        "frames", "tasks", "wall_seconds", "seconds_per_frame", "cpu_percent", "gpu_percent",
        "read_mb_per_s", "write_mb_per_s", "storage_load_percent", "failed",
    ];

    private static readonly NodeClass[] Nodes =
    [
        new("blade-32", 32, 3.0, 128, true),
        new("blade-24", 24, 2.6, 96, false),
        new("desk-16", 16, 3.6, 64, true),
    ];

    private static readonly Project[] Projects =
    [
        new("Saltmarsh", 4096, 2160, 4.0), new("The Ninth Lantern", 4096, 2160, 3.0), new("Low Tide Road", 3840, 2160, 4.8),
        new("Kestrel Weather", 6144, 3240, 3.0), new("A Field of Clocks", 4096, 2160, 5.0), new("Harbour Nine", 3840, 2160, 3.5),
        new("Winterfold", 6144, 3240, 2.4), new("Glass Orchard", 4096, 2304, 4.0), new("The Long Ferry", 2048, 1152, 6.0),
        new("Moth Season", 4096, 2160, 2.4), new("Quarry Light", 8192, 4320, 2.0), new("Tin Roof Choir", 3840, 2160, 4.0),
        new("Eastern Spur", 5120, 2700, 3.0), new("Paper Lighthouse", 3072, 1728, 4.0),
    ];

    /// <summary>The header for an import of these rows.</summary>
    public static BenchmarkHeader Header()
    {
        BenchmarkHeader header = new()
        {
            Name = "demonstration (invented)",
            Invented = true,
            TargetColumn = "seconds_per_frame",
            FamilyColumn = "project",
        };
        header.Columns.AddRange(Columns);
        header.CategoryColumns.AddRange(["gpu", "input_coding", "debayer_scale", "noise_reduction", "output_coding"]);
        header.NumberColumns.AddRange(["cores", "clock_ghz", "input_width", "input_height", "input_bits_per_pixel", "layers", "output_width", "output_height"]);
        return header;
    }

    /// <summary>The rows, in the header's columns.</summary>
    /// <param name="seed">Any seed; the repository's file holds <see cref="DefaultSeed"/>.</param>
    public static ImmutableArray<ImmutableArray<string>> Rows(long seed = DefaultSeed)
    {
        ImmutableArray<ImmutableArray<string>>.Builder rows = ImmutableArray.CreateBuilder<ImmutableArray<string>>();
        for (int p = 0; p < Projects.Length; p++)
        {
            RandomStream random = new(seed, RandomPurpose.InventedData, p);
            double projectFactor = Spread(ref random, 0.08);
            for (int c = 0; c < InventedJobClass.All.Count; c++)
            {
                InventedJobClass job = InventedJobClass.All[c];
                double classFactor = Spread(ref random, 0.045);
                for (int n = 0; n < Nodes.Length; n++)
                {
                    // Nobody measures everything: each project brings two thirds of the grid, drawn at random.
                    bool measured = random.NextUnit() < 2.0 / 3;
                    for (int repeat = 0; repeat < Repeats; repeat++)
                    {
                        double noise = Spread(ref random, 0.02);
                        if (measured)
                        {
                            rows.Add(Row(rows.Count + 1, p, Nodes[n], job, projectFactor * classFactor * noise, repeat));
                        }
                    }
                }
            }
        }

        return rows.ToImmutable();
    }

    /// <summary>The rows as comma-separated text with a header line.</summary>
    /// <param name="seed">Any seed.</param>
    public static string ToCsv(long seed = DefaultSeed) => CsvRows.Plain(Columns, Rows(seed));

    private static ImmutableArray<string> Row(int id, int projectNumber, NodeClass node, InventedJobClass job, double factor, int repeat)
    {
        Project project = Projects[projectNumber];
        (int width, int height) = OutputRaster(job, project);
        double input = project.Width * (double)project.Height / 1e6;
        double output = width * (double)height / 1e6;
        (double cpu, double gpu) = CoreMilliseconds(job, input, output, node.HasGpu);
        double inputMegabytes = input * project.BitsPerPixel / 8;
        double outputMegabytes = output * OutputBitsPerPixel(job.OutputCoding) / 8;
        double compute = cpu / 1000 / (node.Cores * job.Efficiency * (node.ClockGigahertz / 3.0));
        double transfer = (inputMegabytes / ReadMegabytesPerSecond) + (outputMegabytes / WriteMegabytesPerSecond);

        // Reading and writing hide behind the work, all but a quarter.
        double seconds = (Math.Max(compute, transfer) + (0.25 * Math.Min(compute, transfer))) * factor;
        int frames = 480 + (240 * ((projectNumber + repeat) % 4));
        const int Tasks = 4;
        double wall = (frames * seconds) + (Tasks * 9.5);
        DateOnly date = new DateOnly(2025, 9, 1).AddDays((projectNumber * 9) + repeat);
        return
        [
            $"m{id:D4}",
            project.Name,
            date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            node.Name,
            Text(node.Cores),
            Text(node.ClockGigahertz),
            Text(node.MemoryGigabytes),
            node.HasGpu ? "one" : "none",
            node.HasGpu ? "24" : "0",
            "b12",
            job.InputCoding,
            Text(project.Width),
            Text(project.Height),
            job.InputCoding == "exr" ? "16" : "12",
            Text(project.BitsPerPixel),
            job.DebayerScale,
            job.NoiseReduction,
            Text(job.Layers),
            job.OutputCoding,
            Text(width),
            Text(height),
            job.OutputCoding == "exr" ? "16" : job.OutputCoding == "proxy" ? "8" : "10",
            Text(frames),
            Text(Tasks),
            Text(wall),
            Text(seconds),
            Text(Math.Round(100 * job.Efficiency * compute / seconds * factor)),
            Text(Math.Round(node.HasGpu ? Math.Min(95, 100 * gpu / (gpu + cpu) * 2) : 0)),
            Text(inputMegabytes / seconds),
            Text(outputMegabytes / seconds),
            Text(20 + (5 * ((projectNumber + repeat) % 5))),
            "0",
        ];
    }

    // Invented work in core-milliseconds a frame, and the part of it that a GPU takes over.
    private static (double Cpu, double Gpu) CoreMilliseconds(InventedJobClass job, double input, double output, bool hasGpu)
    {
        double debayer = input * (job.DebayerScale switch
        {
            "1" => 55,
            "1/2" => 16,
            "1/4" => 6,
            _ => 0,
        });
        double decode = input * (job.InputCoding switch
        {
            "intra" => 7,
            "long-gop" => 13,
            "exr" => 15,
            _ => 0,
        });
        double noise = input * (job.NoiseReduction switch
        {
            "spatial" => 100,
            "temporal" => 450,
            _ => 0,
        });
        double scaled = job.DebayerScale == "1/2" ? input / 4 : input;
        double scale = job.OutputWidth > 0 ? scaled * 6 : 0;
        double colour = job.OutputCoding is "exr" or "jpeg2000" ? 0 : output * 4.5;
        double layers = output * job.Layers * 30;
        double encode = output * (job.OutputCoding switch
        {
            "jpeg2000" => 200,
            "exr" => 30,
            _ => 12,
        });
        double spared = hasGpu ? (debayer * (1 - (1 / GpuDebayer))) + (noise * (1 - (1 / GpuNoiseReduction))) : 0;
        return (debayer + decode + noise + scale + colour + layers + encode - spared, spared);
    }

    private static (int Width, int Height) OutputRaster(InventedJobClass job, Project project) => job.OutputWidth switch
    {
        1920 => (1920, 1080),
        3840 => (3840, 2160),
        _ => (project.Width, project.Height),
    };

    private static double OutputBitsPerPixel(string coding) => coding switch
    {
        "proxy" => 0.75,
        "exr" => 48,
        "jpeg2000" => 1.2,
        _ => 3.5,
    };

    // A log-normal factor, cut at two deviations so that the invented rows stay within their stated ranges.
    private static double Spread(ref RandomStream random, double deviation) =>
        Math.Exp(deviation * Math.Clamp(random.NextNormal(), -2, 2));

    private static string Text(double value) => double.Parse(value.ToString("G4", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture);

    private sealed record Project(string Name, int Width, int Height, double BitsPerPixel);

    private sealed record NodeClass(string Name, int Cores, double ClockGigahertz, int MemoryGigabytes, bool HasGpu);
}
