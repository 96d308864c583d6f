using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Footage.FootageSamples;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>Rates of many modes sent as columns.</summary>
public abstract class RateColumnsContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
    // Model-based: columns answer what items answer, mode by mode, and say which modes have no value and why.
    [Fact]
    public async Task EstimateRateColumns_ManyModes_EqualTheItems()
    {
        ListCodingsResponse catalogue = await Clients.Footage.ListCodingsAsync(new());
        EstimateRatesRequest items = new();
        EstimateRateColumnsRequest columns = new();
        for (int i = 0; i < 400; i++)
        {
            CodingEntry coding = catalogue.Codings[i % catalogue.Codings.Count];
            RateItem item = new() { Coding = new() { CatalogueName = coding.Name }, Raster = new() { Width = 640 + (i * 7 % 3000), Height = 480 + (i * 5 % 1700) }, SensorRate = new() { Numerator = 24_000 + i, Denominator = 1001 } };
            items.Items.Add(item);
            columns.Codings.Add(item.Coding);
            columns.CodingIndexes.Add(i);
            columns.Widths.Add(item.Raster.Width);
            columns.Heights.Add(item.Raster.Height);
            columns.RateNumerators.Add(item.SensorRate.Numerator);
            columns.RateDenominators.Add(item.SensorRate.Denominator);
        }

        EstimateRatesResponse one = await Clients.Footage.EstimateRatesAsync(items);
        EstimateRateColumnsResponse all = await Clients.Footage.EstimateRateColumnsAsync(columns);
        Dictionary<int, ItemError> errors = all.Errors.ToDictionary(e => e.Index, e => e.Error);
        for (int i = 0; i < 400; i++)
        {
            if (one.Results[i].Error is { } error)
            {
                Assert.Equal(error, errors[i]);
                Assert.Equal(0, all.BytesPerFrame[i]);
                continue;
            }

            RateEstimate expected = one.Results[i].Estimate;
            Assert.Equal((expected.BytesPerFrame, expected.PeakBytesPerFrame), (all.BytesPerFrame[i], all.PeakBytesPerFrame[i]));
            Rational rate = expected.PictureBytesPerSecond;
            Assert.Equal((rate.Numerator + rate.Denominator - 1) / rate.Denominator, all.BytesPerSecond[i]);
        }

        Assert.NotEmpty(errors);
    }

    // A tree for the modes that are asked for, the same as an item's, and none for a mode without a value.
    [Fact]
    public async Task EstimateRateColumns_ExplainModes_GivesTheTreesOfItems()
    {
        EstimateRateColumnsRequest columns = new() { Codings = { ClipR().Coding }, CodingIndexes = { 0, 0, 0 }, Widths = { 4096, 0, 2048 }, Heights = { 2160, 1080, 1080 }, RateNumerators = { 24, 24, 24 }, RateDenominators = { 1, 1, 1 }, ExplainModes = { 2, 1, 0 } };
        EstimateRateColumnsResponse response = await Clients.Footage.EstimateRateColumnsAsync(columns);
        Assert.Equal([2, 0], response.Derivations.Select(d => d.Index));
        Derivation item = (await Clients.Footage.EstimateRatesAsync(new() { Items = { ClipR() }, Explain = true })).Results[0].Estimate.Derivation;
        Assert.Equal(item, response.Derivations[1].Derivation);
        Assert.Equal($"{response.BytesPerSecond[0]}", item.Value);
        columns.ExplainModes.Clear();
        Assert.Empty((await Clients.Footage.EstimateRateColumnsAsync(columns)).Derivations);
        columns.ExplainModes.Add(3);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.EstimateRateColumnsAsync(columns));
        Assert.Equal("explain_modes[0] is 3; allowed is 0 to 2, a mode of the request", refused.Violations[0].ToString());
    }

    // The largest batch in columns, both ways within the limit of a message; one mode more is refused.
    [Fact]
    public async Task EstimateRateColumns_FiftyThousandModes_AreAnsweredAndOneMoreIsRefused()
    {
        EstimateRateColumnsRequest columns = new() { Codings = { ClipR().Coding } };
        columns.CodingIndexes.AddRange(new int[50_000]);
        columns.Widths.AddRange(Enumerable.Repeat(4096, 50_000));
        columns.Heights.AddRange(Enumerable.Repeat(2160, 50_000));
        columns.RateNumerators.AddRange(Enumerable.Range(1, 50_000).Select(i => (long)i));
        columns.RateDenominators.AddRange(Enumerable.Repeat(1L, 50_000));
        EstimateRateColumnsResponse response = await Clients.Footage.EstimateRateColumnsAsync(columns);
        Assert.Equal(Enumerable.Range(1, 50_000).Select(i => i * 4_423_680L), response.BytesPerSecond);
        columns.CodingIndexes.Add(0);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.EstimateRateColumnsAsync(columns));
        Assert.Contains(refused.Violations, v => v.Field == "coding_indexes");
    }

    [Fact]
    public async Task EstimateRateColumns_UnlikeLengthsAndBadModes_AreRefusedOrSaid()
    {
        EstimateRateColumnsRequest request = new() { Codings = { new Coding { CatalogueName = "raw-12" } }, CodingIndexes = { 0, 1, 0 }, Widths = { 10, 10, 0 }, Heights = { 10, 10, 10 }, RateNumerators = { 24, 24, 24 }, RateDenominators = { 1, 1, 0 } };
        EstimateRateColumnsResponse response = await Clients.Footage.EstimateRateColumnsAsync(request);
        Assert.Equal([150, 0, 0], response.BytesPerFrame);
        Assert.Equal([3600, 0, 0], response.BytesPerSecond);
        Assert.Equal(["coding_indexes[1]", "modes[2].width"], response.Errors.Select(e => e.Error.Field));
        Assert.Contains("modes[2].rate.denominator is 0", response.Errors[1].Error.Description, StringComparison.Ordinal);
        request.Widths.RemoveAt(0);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.EstimateRateColumnsAsync(request));
        Assert.Equal("widths", refused.Violations[0].Field);
    }
}

public sealed class EmbeddedRateColumnsTests : RateColumnsContract<EmbeddedTransport>;

public sealed class NetworkRateColumnsTests : RateColumnsContract<KestrelTransport>;
