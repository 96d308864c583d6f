using System.Net;
using PostPipeline.Hosting;
using Xunit;

namespace PostPipeline.Services.Tests.Hosting;

public sealed class HostCommandLineTests
{
    [Fact]
    public void Parse_Nothing_ListensOnTheUsualPortOfLoopback() =>
        Assert.Equal(new(IPAddress.Loopback, 5101), HostCommandLine.Parse([], 5101, null).Endpoint);

    [Theory]
    [InlineData("http://127.0.0.1:7000", "127.0.0.1:7000")]
    [InlineData("http://localhost:7000", "127.0.0.1:7000")]
    [InlineData("http://[::1]:7000", "[::1]:7000")]
    [InlineData("http://127.0.0.9:0", "127.0.0.9:0")]
    public void Parse_LoopbackAddress_IsTaken(string url, string endpoint)
    {
        Assert.Equal(endpoint, HostCommandLine.Parse(["--urls", url], 5101, null).Endpoint.ToString());
        Assert.Equal(endpoint, HostCommandLine.Parse([], 5101, url).Endpoint.ToString());
    }

    [Theory]
    [InlineData("--port", "70000")]
    [InlineData("--port", "-1")]
    [InlineData("--port", "http")]
    [InlineData("--urls", "http://example.org:7000")]
    [InlineData("--urls", "http://10.0.0.1:7000")]
    [InlineData("--urls", "http://127.0.0.1:7000/path")]
    [InlineData("--urls", "http://127.0.0.1:7000;http://0.0.0.0:7001")]
    [InlineData("--other", "1")]
    public void Parse_WrongArgument_IsNamedWithItsValue(string option, string value)
    {
        FormatException refusal = Assert.Throws<FormatException>(() => HostCommandLine.Parse([option, value], 5101, null));
        Assert.Contains(option == "--other" ? option : value, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Parse_OptionWithoutValue_SaysSo() =>
        Assert.Contains("--data needs a value", Assert.Throws<FormatException>(() => HostCommandLine.Parse(["--data"], 5101, null)).Message, StringComparison.Ordinal);
}
