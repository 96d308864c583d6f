using Grpc.Core;
using Grpc.Net.Client;
using Grpc.Reflection.V1Alpha;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Embedded;
using Xunit;

namespace PostPipeline.Services.Tests.Hosting;

/// <summary>Each host as a process of its own.</summary>
public sealed class HostProcessTests
{
    private static readonly (string Project, string Name)[] Hosts =
    [
        ("PostPipeline.Timecodes.Service", "timecode"),
        ("PostPipeline.Footage.Service", "footage"),
        ("PostPipeline.Rendering.Service", "rendering"),
    ];

    [Fact]
    public async Task ThreeProcesses_AddressesInAnyOrder_AnswerAsEmbedded()
    {
        List<ChildProcess> children = [];
        string data = Directory.CreateTempSubdirectory("postpipeline-test-").FullName;
        try
        {
            List<string> addresses = [];
            foreach ((string project, string name) in Hosts)
            {
                ChildProcess child = ChildProcess.Start($"services/{project}", project, ["--port", "0", "--data", data, "--stop-with-input"]);
                children.Add(child);
                addresses.Add((await child.LineAsync($"{name} listens on ")).Split(' ')[^1]);
            }

            addresses.Reverse();
            await using SuiteConnection connection = await SuiteConnection.OpenAsync(addresses);
            await using EmbeddedSuite embedded = EmbeddedSuite.InFolder(data);
            EstimateRatesRequest question = new();
            Assert.Equal(await AnswerAsync(embedded.Clients, question), await AnswerAsync(connection.Clients, question));

            foreach (ChildProcess child in children)
            {
                child.Input.Close();
                Assert.Equal(0, (await child.EndAsync()).ExitCode);
            }
        }
        finally
        {
            children.ForEach(child => child.Dispose());
            Directory.Delete(data, recursive: true);
        }
    }

    [Theory]
    [InlineData("http://0.0.0.0:5999")]
    [InlineData("http://*:5999")]
    [InlineData("http://192.0.2.1:5999")]
    [InlineData("https://127.0.0.1:5999")]
    public async Task Host_AskedToListenBeyondLoopback_Refuses(string url)
    {
        using ChildProcess asked = ChildProcess.Start("services/PostPipeline.Footage.Service", "PostPipeline.Footage.Service", ["--urls", url]);
        (int exitCode, string output, string error) = await asked.EndAsync();
        Assert.Equal((2, string.Empty), (exitCode, output));
        Assert.Contains($"--urls is '{url}'", error, StringComparison.Ordinal);
        Assert.Contains("127.0.0.1", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Host_AskedByTheEnvironmentToListenBeyondLoopback_Refuses()
    {
        using ChildProcess asked = ChildProcess.Start(
            "services/PostPipeline.Footage.Service", "PostPipeline.Footage.Service", [], new() { ["ASPNETCORE_URLS"] = "http://+:5999" });
        (int exitCode, _, string error) = await asked.EndAsync();
        Assert.Equal(2, exitCode);
        Assert.Contains("ASPNETCORE_URLS is 'http://+:5999'", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Host_PortTaken_SaysSo()
    {
        using ChildProcess first = ChildProcess.Start("services/PostPipeline.Footage.Service", "PostPipeline.Footage.Service", ["--port", "0"]);
        string port = (await first.LineAsync("listens on ")).Split(':')[^1];
        using ChildProcess second = ChildProcess.Start("services/PostPipeline.Footage.Service", "PostPipeline.Footage.Service", ["--port", port]);
        (int exitCode, _, string error) = await second.EndAsync();
        Assert.Equal(3, exitCode);
        Assert.Contains("address already in use", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Host_Reflection_ListsItsServices()
    {
        using ChildProcess child = ChildProcess.Start("services/PostPipeline.Footage.Service", "PostPipeline.Footage.Service", ["--port", "0"]);
        using GrpcChannel channel = GrpcChannel.ForAddress((await child.LineAsync("listens on ")).Split(' ')[^1]);
        using AsyncDuplexStreamingCall<ServerReflectionRequest, ServerReflectionResponse> call = new ServerReflection.ServerReflectionClient(channel).ServerReflectionInfo();
        await call.RequestStream.WriteAsync(new() { ListServices = string.Empty });
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        Assert.Contains("grpc.health.v1.Health", call.ResponseStream.Current.ListServicesResponse.Service.Select(service => service.Name));
        await call.RequestStream.CompleteAsync();
    }

    [Fact]
    public async Task Open_NobodyThere_SaysWhichAddress()
    {
        ServiceAddressException failure = await Assert.ThrowsAsync<ServiceAddressException>(() => SuiteConnection.OpenAsync(["http://127.0.0.1:1"]));
        Assert.Contains("127.0.0.1:1", failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("127.0.0.1:5101")]
    [InlineData("ftp://127.0.0.1")]
    [InlineData("")]
    public async Task Open_NotAnAddress_SaysWhatIsAllowed(string address)
    {
        ServiceAddressException failure = await Assert.ThrowsAsync<ServiceAddressException>(() => SuiteConnection.OpenAsync([address]));
        Assert.Contains("http://127.0.0.1:5101", failure.Message, StringComparison.Ordinal);
    }

    private static async Task<string> AnswerAsync(SuiteClients clients, EstimateRatesRequest question)
    {
        try
        {
            return (await clients.Footage.EstimateRatesAsync(question)).ToString();
        }
        catch (ServiceCallException refused)
        {
            return $"{refused.StatusCode} {refused.Message}";
        }
    }
}
