using System.Net;
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

    /// <summary>Measures and prints.</summary>
    /// <param name="arguments">None.</param>
    public static int Run(string[] arguments)
    {
        (Coding Coding, Raster Raster, FrameRate Rate)[] modes = [.. Enumerable.Range(0, Modes).Select(Mode)];
        long sink = 0;
        Measure.Cost estimates = Measure.Median(Modes * 100, () =>
        {
            for (int round = 0; round < 100; round++)
            {
                foreach ((Coding coding, Raster raster, FrameRate rate) in modes)
                {
                    RateEstimate estimate = RateEstimate.Of(coding, raster, rate);
                    sink += estimate.Frame.Average + estimate.Picture.BitsPerSecond.Numerator;
                }
            }
        });
        Measure.Print($"rate estimate, domain ({1e9 / estimates.Nanoseconds / 1e6:F2} million a second)", estimates);

        RecordingMode mode = new(modes[0].Coding, modes[0].Raster, modes[0].Rate) { Audio = AudioTracks.From(2) };
        RateEstimate one = mode.Estimate();
        Measure.Print("derivation of a rate", Measure.Median(10_000, () =>
        {
            for (int i = 0; i < 10_000; i++)
            {
                sink += RateExplanation.Of(mode, one).Inputs.Count;
            }
        }));

        EstimateRatesRequest batch = Batch();
        EmbeddedCallInvoker embedded = new([FootageHost.Definition], new());
        Measure.Print("batch of 1,000, embedded (per batch)", Calls(embedded, batch));
        Measure.Print("batch of 1,000, loopback TCP (per batch)", Network(batch));
        embedded.DisposeAsync().AsTask().GetAwaiter().GetResult();
        return sink == 0 ? 1 : 0;
    }

    private static Measure.Cost Network(EstimateRatesRequest batch)
    {
        WebApplication application = PostPipelineHost.Build(FootageHost.Definition, new(new(IPAddress.Loopback, 0), new(), StopWithInput: false));
        application.StartAsync().GetAwaiter().GetResult();
        using GrpcChannel channel = GrpcChannel.ForAddress(application.Urls.Single());
        Measure.Cost cost = Calls(channel.CreateCallInvoker(), batch);
        application.StopAsync().GetAwaiter().GetResult();
        return cost;
    }

    private static Measure.Cost Calls(CallInvoker invoker, EstimateRatesRequest batch)
    {
        FootageService.FootageServiceClient client = new(invoker);
        for (int i = 0; i < 200; i++)
        {
            client.EstimateRates(batch);
        }

        return Measure.Median(100, () =>
        {
            for (int i = 0; i < 100; i++)
            {
                client.EstimateRates(batch);
            }
        });
    }

    // Modes that differ from one another, so that nothing is answered from a memory of the one before.
    private static (Coding Coding, Raster Raster, FrameRate Rate) Mode(int i)
    {
        IReadOnlyList<Coding> all = CodingCatalogue.Standard.Codings;
        Coding coding = all[i % all.Count];
        Raster raster = coding.OnlyRaster ?? Raster.From(1920 + (i % 97 * 16), 1080 + (i % 89 * 8));
        return (coding, raster, i % 3 == 0 ? FrameRate.Fps24000Over1001 : FrameRate.From(24 + (i % 2)));
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
