using System.Diagnostics;
using System.Net;
using System.Runtime;
using Grpc.Core;
using Grpc.Net.Client;
using Microsoft.AspNetCore.Builder;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Embedded;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Service;
using PostPipeline.Hosting;
using PostPipeline.Quantities;
using AudioTracks = PostPipeline.Footage.Rates.AudioTracks;
using Coding = PostPipeline.Footage.Codings.Coding;
using RateEstimate = PostPipeline.Footage.Rates.RateEstimate;

namespace PostPipeline.Benchmarks.Footage;

/// <summary>
/// Footage: promised are 1,000,000 rate estimates a second on one core through the domain, a batch of 1,000 within
/// 150 µs embedded and 600 µs over loopback TCP, and a derivation within 10 µs.
/// </summary>
internal static class FootageBenchmarks
{
    private const int Modes = 1000;
    private static readonly TimeSpan Quiet = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan LongestWarmUp = TimeSpan.FromSeconds(60);

    /// <summary>Measures and prints.</summary>
    /// <param name="arguments">None.</param>
    public static int Run(string[] arguments)
    {
        (Coding Coding, Raster Raster, FrameRate Rate)[] modes = [.. Enumerable.Range(0, Modes).Select(Mode)];
        long sink = 0;
        Warm(() => sink += Estimate(modes));
        Measure.Cost estimates = Measure.Median(Modes * 100, () =>
        {
            for (int round = 0; round < 100; round++)
            {
                sink += Estimate(modes);
            }
        });
        Measure.Print($"rate estimate, domain ({1e9 / estimates.Nanoseconds / 1e6:F2} million a second)", estimates);

        RecordingMode mode = new(modes[0].Coding, modes[0].Raster, modes[0].Rate) { Audio = AudioTracks.From(2) };
        RateEstimate one = mode.Estimate();
        Warm(() => sink += RateExplanation.Of(mode, one).Inputs.Count);
        Measure.Print("derivation of a rate", Measure.Median(10_000, () =>
        {
            for (int i = 0; i < 10_000; i++)
            {
                sink += RateExplanation.Of(mode, one).Inputs.Count;
            }
        }));

        EstimateRatesRequest batch = Batch();
        EmbeddedCallInvoker embedded = new([FootageHost.Definition], new());
        EstimateRateColumnsRequest columns = Columns();
        Action<FootageService.FootageServiceClient> askColumns = client => client.EstimateRateColumns(columns);
        Action<FootageService.FootageServiceClient> askItems = client => client.EstimateRates(batch);
        Measure.Print("batch of 1,000 in columns, embedded (per batch)", Calls(embedded, askColumns));
        Measure.Print("batch of 1,000 in columns, loopback TCP (per batch)", Network(askColumns));
        Measure.Print("batch of 1,000 as items, embedded (per batch)", Calls(embedded, askItems));
        Measure.Print("batch of 1,000 as items, loopback TCP (per batch)", Network(askItems));
        embedded.DisposeAsync().AsTask().GetAwaiter().GetResult();
        return sink == 0 ? 1 : 0;
    }

    private static Measure.Cost Network(Action<FootageService.FootageServiceClient> ask)
    {
        WebApplication application = PostPipelineHost.Build(FootageHost.Definition, new(new(IPAddress.Loopback, 0), new(), StopWithInput: false));
        application.StartAsync().GetAwaiter().GetResult();
        using GrpcChannel channel = GrpcChannel.ForAddress(application.Urls.Single());
        Measure.Cost cost = Calls(channel.CreateCallInvoker(), ask);
        application.StopAsync().GetAwaiter().GetResult();
        return cost;
    }

    private static Measure.Cost Calls(CallInvoker invoker, Action<FootageService.FootageServiceClient> ask)
    {
        FootageService.FootageServiceClient client = new(invoker);
        TimeSpan warm = Warm(() => ask(client));
        TimeSpan before = Environment.CpuUsage.TotalTime;
        Measure.Cost cost = Measure.Median(100, () =>
        {
            for (int i = 0; i < 100; i++)
            {
                ask(client);
            }
        });

        // Eleven runs of a hundred: two to warm up, nine timed. On a busy machine this and the fastest single call say more than the median.
        TimeSpan busy = Environment.CpuUsage.TotalTime - before;
        Console.WriteLine($"  fastest of 1,000 single calls: {Fastest(() => ask(client)).TotalMicroseconds:F0} µs; processor time, both sides: {busy.TotalMicroseconds / 1100:F0} µs a batch; warm after {warm.TotalSeconds:F0} s");
        return cost;
    }

    private static long Estimate((Coding Coding, Raster Raster, FrameRate Rate)[] modes)
    {
        long sum = 0;
        foreach ((Coding coding, Raster raster, FrameRate rate) in modes)
        {
            RateEstimate estimate = RateEstimate.Of(coding, raster, rate);
            sum += estimate.Frame.Average + estimate.PictureBytesPerSecond + estimate.PicturePeakBytesPerSecond;
        }

        return sum;
    }

    // Until the compiler has made its last version of everything on the way. It does so on a thread of its own and in steps
    // of time: a call over TCP passes through a few hundred methods, and while those wait for their turn it takes twice as long.
    private static TimeSpan Warm(Action call)
    {
        long start = Stopwatch.GetTimestamp();
        long last = start;
        long compiled = JitInfo.GetCompiledMethodCount();
        while (Stopwatch.GetElapsedTime(last) < Quiet && Stopwatch.GetElapsedTime(start) < LongestWarmUp)
        {
            call();
            if (JitInfo.GetCompiledMethodCount() is long now && now != compiled)
            {
                (compiled, last) = (now, Stopwatch.GetTimestamp());
            }
        }

        return Stopwatch.GetElapsedTime(start);
    }

    private static TimeSpan Fastest(Action call)
    {
        TimeSpan fastest = TimeSpan.MaxValue;
        for (int i = 0; i < 1000; i++)
        {
            long start = Stopwatch.GetTimestamp();
            call();
            TimeSpan one = Stopwatch.GetElapsedTime(start);
            fastest = one < fastest ? one : fastest;
        }

        return fastest;
    }

    // Modes that differ from one another, so that nothing is answered from a memory of the one before.
    private static (Coding Coding, Raster Raster, FrameRate Rate) Mode(int i)
    {
        IReadOnlyList<Coding> all = CodingCatalogue.Standard.Codings;
        Coding coding = all[i % all.Count];
        Raster raster = coding.OnlyRaster ?? Raster.From(1920 + (i % 97 * 16), 1080 + (i % 89 * 8));
        return (coding, raster, i % 3 == 0 ? FrameRate.Fps24000Over1001 : FrameRate.From(24 + (i % 2)));
    }

    private static EstimateRateColumnsRequest Columns()
    {
        EstimateRateColumnsRequest request = new();
        request.Codings.AddRange(CodingCatalogue.Standard.Codings.Select(c => new Contracts.Footage.V1.Coding { CatalogueName = c.Id }));
        for (int i = 0; i < Modes; i++)
        {
            (_, Raster raster, FrameRate rate) = Mode(i);
            request.CodingIndexes.Add(i % request.Codings.Count);
            request.Widths.Add(raster.Width);
            request.Heights.Add(raster.Height);
            request.RateNumerators.Add(rate.Numerator);
            request.RateDenominators.Add(rate.Denominator);
        }

        return request;
    }

    private static EstimateRatesRequest Batch()
    {
        EstimateRatesRequest request = new();
        for (int i = 0; i < Modes; i++)
        {
            (Coding coding, Raster raster, FrameRate rate) = Mode(i);
            request.Items.Add(new RateItem
            {
                Coding = new() { CatalogueName = coding.Id },
                Raster = new() { Width = raster.Width, Height = raster.Height },
                SensorRate = new() { Numerator = rate.Numerator, Denominator = rate.Denominator },
            });
        }

        return request;
    }
}
