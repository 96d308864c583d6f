using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Parameters;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>One kernel in this process: where errors lie, and what a cell ends in.</summary>
public sealed class InteractiveEngineTests
{
    [Fact]
    public async Task Run_CellsThatFail_NameTheLineAndTheKernelGoesOn()
    {
        using InteractiveEngine engine = new(CellSetup.Basic);
        CellOutput.Error compile = Assert.IsType<CellOutput.Error>(Assert.Single(await RunAsync(engine, 1, "int a = 1;\nint b = \"\";")));
        Assert.Equal(("Cannot implicitly convert type 'string' to 'int' (CS0029)", 2), (compile.Message, compile.Line));

        CellOutput.Error thrown = Assert.IsType<CellOutput.Error>(Assert.Single(await RunAsync(engine, 2, "int F(int x)\n{\n  return 1 / x;\n}\n\nint y = F(0);")));
        Assert.Equal(("Attempted to divide by zero.", 3), (thrown.Message, thrown.Line));

        CellOutput.Value after = Assert.IsType<CellOutput.Value>(Assert.Single(await RunAsync(engine, 3, "\"still here\"")));
        Assert.Equal("still here", after.Bundle[MimeBundle.PlainText]);
    }

    private static async Task<List<CellOutput>> RunAsync(InteractiveEngine engine, int cell, string code)
    {
        List<CellOutput> outputs = [];
        await engine.RunAsync(code, cell, new(outputs.Add, new ParameterSet(), CancellationToken.None));
        return outputs;
    }
}
