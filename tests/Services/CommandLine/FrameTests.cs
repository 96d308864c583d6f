using System.Text.Json;
using PostPipeline.Cli.Frame;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

public sealed class FrameTests
{
    [Fact]
    public async Task Json_Answer_IsAnEnvelopeOfThree()
    {
        (int exitCode, string output, string error) = await Typed.RunAsync("about", "--json");
        Assert.Equal((0, string.Empty), (exitCode, error));
        using JsonDocument json = JsonDocument.Parse(output);
        Assert.Equal(["schema", "result", "run"], json.RootElement.EnumerateObject().Select(property => property.Name));
    }

    [Fact]
    public async Task Json_SameQuestionTwice_SameResultBytes()
    {
        string Result(string output) => JsonDocument.Parse(output).RootElement.GetProperty("result").GetRawText();
        Assert.Equal(Result((await Typed.RunAsync("about", "--json")).Output), Result((await Typed.RunAsync("--json", "about")).Output));
    }

    [Theory]
    [InlineData("abuot")]
    [InlineData("about", "--nothing")]
    [InlineData("serve", "everything")]
    [InlineData]
    public async Task WrongCommandLine_StdoutStaysEmptyAndTheWayOutIsNamed(params string[] arguments)
    {
        (int exitCode, string output, string error) = await Typed.RunAsync(arguments);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains("--help", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WrongPort_NamesOptionValueAndWhatIsAllowed()
    {
        (int exitCode, _, string error) = await Typed.RunAsync("serve", "--port", "99999");
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Equal("--port = 99999: allowed is 0 (free ports) to 65533\n", error);
    }

    [Fact]
    public async Task Json_Error_IsAnEnvelopeToo()
    {
        (int exitCode, string output, string error) = await Typed.RunAsync("serve", "--port", "99999", "--json");
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.NotEmpty(error);
        using JsonDocument json = JsonDocument.Parse(output);
        Assert.Equal("postpipeline.error/1", json.RootElement.GetProperty("schema").GetString());
        JsonElement problem = json.RootElement.GetProperty("result").GetProperty("problems")[0];
        Assert.Equal(("--port", "99999"), (problem.GetProperty("field").GetString(), problem.GetProperty("value").GetString()));
    }

    [Fact]
    public async Task ServicesNotThere_ExitCodeSaysSo()
    {
        (int exitCode, string output, string error) = await Typed.RunAsync("about", "--services", "http://127.0.0.1:1");
        Assert.Equal((ExitCode.ServiceFailed, string.Empty), (exitCode, output));
        Assert.Contains("127.0.0.1:1", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("plan.yaml", 12, 8, "shoot.days", "-3", "plan.yaml:12:8: shoot.days = -3: allowed is 1 to 366")]
    [InlineData("plan.yaml", 12, 0, "shoot.days", "-3", "plan.yaml:12: shoot.days = -3: allowed is 1 to 366")]
    [InlineData("plan.yaml", 0, 0, "", "", "plan.yaml: allowed is 1 to 366")]
    [InlineData("", 0, 0, "--days", "-3", "--days = -3: allowed is 1 to 366")]
    [InlineData("", 0, 0, "--days", "", "--days: allowed is 1 to 366")]
    public void Problem_ReadsWithItsPlace(string file, int line, int column, string field, string value, string text) =>
        Assert.Equal(text, new InputProblem(file, line, column, field, value, "allowed is 1 to 366").ToString());
}
