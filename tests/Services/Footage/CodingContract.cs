using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Footage.FootageSamples;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>The catalogue of codings.</summary>
public abstract class CodingContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task ListCodings_Catalogue_HasSources()
    {
        ListCodingsResponse response = await Clients.Footage.ListCodingsAsync(new());
        Assert.True(response.Codings.Count > 100);
        Assert.All(response.Codings, c => Assert.NotEmpty(c.Source));
        CodingEntry table = response.Codings.Single(c => c.Name == "vc3-1235");
        Assert.Equal((1920, 917_504L, null), (table.OnlyRaster.Width, table.BytesPerFrame, table.Derivation));
    }

    // Every coding has its tree on request; one that does not carry the raster asked for has neither bytes nor tree.
    [Fact]
    public async Task ListCodings_Explain_HasATreeForEveryCodingThatCarriesTheRaster()
    {
        ListCodingsResponse usual = await Clients.Footage.ListCodingsAsync(new() { Explain = true });
        Assert.All(usual.Codings, c =>
        {
            Assert.Equal($"{c.BytesPerFrame}", c.Derivation.Value);
            Assert.Equal((c.Formula, c.Source), (c.Derivation.Formula, c.Derivation.Source));
        });
        ListCodingsResponse cinema = await Clients.Footage.ListCodingsAsync(new() { Explain = true, Raster = new() { Width = 4096, Height = 2160 }, Rate = Rate(24) });
        Assert.Equal(4_423_680, cinema.Codings.Single(c => c.Name == "raw-12-3to1").BytesPerFrame);
        CodingEntry other = cinema.Codings.Single(c => c.Name == "vc3-1235");
        Assert.Equal((0L, null), (other.BytesPerFrame, other.Derivation));
        Assert.Equal("bit rate limit", cinema.Codings.Single(c => c.Name == "jpeg2000-cinema").Derivation.BindingLimit);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.ListCodingsAsync(new() { Raster = new(), Rate = new() }));
        Assert.Equal(["raster.width", "raster.height", "rate.denominator"], refused.Violations.Select(v => v.Field));
    }
}

public sealed class EmbeddedCodingTests : CodingContract<EmbeddedTransport>;

public sealed class NetworkCodingTests : CodingContract<KestrelTransport>;
