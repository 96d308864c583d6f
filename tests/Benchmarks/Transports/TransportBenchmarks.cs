using System.Diagnostics;
using Grpc.Core;
using Grpc.Net.Client;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Embedded;

namespace PostPipeline.Benchmarks.Transports;

/// <summary>
/// What a call costs embedded and over loopback TCP (HTTP/2 without TLS, service in a process of its own), one caller:
/// one item, and a batch of 1,000. Both sides share the machine's cores, so ratios count more than figures.
/// </summary>
internal static class TransportBenchmarks
{
    private const int Batch = 1_000;

    /// <summary>Runs all.</summary>
    public static int Run(string[] arguments)
    {
        EmbeddedCallInvoker invoker = new(EmbeddedSuite.Hosts);
        Console.WriteLine("embedded, generated client");
        Ask("  ", new(invoker), new(invoker), 20_000, 200);
        SuiteClients clients = SuiteClients.Over(invoker);
        Console.WriteLine("embedded, with deadline, versions and correlation id");
        Ask("  ", clients.Timecode, clients.Footage, 20_000, 200);

        using Process timecode = Start("Timecodes");
        using Process footage = Start("Footage");
        try
        {
            using GrpcChannel toTimecode = GrpcChannel.ForAddress(Address(timecode));
            using GrpcChannel toFootage = GrpcChannel.ForAddress(Address(footage));
            Console.WriteLine("loopback TCP, generated client");
            Ask("  ", new(toTimecode), new(toFootage), 1_000, 50);
        }
        finally
        {
            timecode.Kill();
            footage.Kill();
        }

        invoker.DisposeAsync().AsTask().GetAwaiter().GetResult();
        return 0;
    }

    private static void Ask(string indent, TimecodeService.TimecodeServiceClient timecode, FootageService.FootageServiceClient footage, int unary, int batches)
    {
        FormatLabelsRequest label = Labels(1);
        FormatLabelsRequest labels = Labels(Batch);
        EstimateRatesRequest rate = Rates(1);
        EstimateRatesRequest rates = Rates(Batch);
        Measure.Print($"{indent}one label", Measure.Median(unary, () => Repeat(unary, () => timecode.FormatLabelsAsync(label))));
        Measure.Print($"{indent}1,000 labels", Measure.Median(batches, () => Repeat(batches, () => timecode.FormatLabelsAsync(labels))));
        Measure.Print($"{indent}one rate estimate", Measure.Median(unary, () => Repeat(unary, () => footage.EstimateRatesAsync(rate))));
        Measure.Print($"{indent}1,000 rate estimates", Measure.Median(batches, () => Repeat(batches, () => footage.EstimateRatesAsync(rates))));
    }

    private static void Repeat<T>(int times, Func<AsyncUnaryCall<T>> call) => RepeatAsync(times, call).GetAwaiter().GetResult();

    private static async Task RepeatAsync<T>(int times, Func<AsyncUnaryCall<T>> call)
    {
        for (int i = 0; i < times; i++)
        {
            await call().ResponseAsync.ConfigureAwait(false);
        }
    }

    private static FormatLabelsRequest Labels(int count)
    {
        FormatLabelsRequest request = new() { Format = new() { Rate = new() { Numerator = 30_000, Denominator = 1_001 }, DropFrame = true } };
        request.FrameIndices.AddRange(Enumerable.Range(0, count).Select(i => i * 1_801L));
        return request;
    }

    private static EstimateRatesRequest Rates(int count)
    {
        EstimateRatesRequest request = new();
        for (int i = 0; i < count; i++)
        {
            request.Items.Add(new RateItem
            {
                Coding = new() { Raw = new() { BitDepth = 12, CompressionRatio = new() { Numerator = 3, Denominator = 1 } } },
                Raster = new() { Width = 4_096, Height = 2_160 - (i % 100) },
                SensorRate = new() { Numerator = 24, Denominator = 1 },
            });
        }

        return request;
    }

    private static Process Start(string area)
    {
        string root = AppContext.BaseDirectory[..AppContext.BaseDirectory.LastIndexOf("/tests/", StringComparison.Ordinal)];
        string program = $"PostPipeline.{area}.Service";
        string file = Path.Combine(root, "services", program, "bin", "Release", "net10.0", $"{program}.dll");
        return Process.Start(new ProcessStartInfo("dotnet", ["exec", file, "--port", "0", "--stop-with-input"]) { RedirectStandardInput = true, RedirectStandardOutput = true })!;
    }

    private static string Address(Process host) =>
        host.StandardOutput.ReadLine()?.Split(' ')[^1] ?? throw new InvalidOperationException("The service ended before it listened.");
}
