using System.Diagnostics;
using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Jupyter;
using PostPipeline.Notebooks.Runs;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>Our kernel under the programs of the distribution: a notebook executed.</summary>
public sealed class JupyterTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-jupyter-").FullName;

    [SkippableFact]
    public async Task Nbconvert_ExecutesANotebook_WithChartsThatNeedNoNetwork()
    {
        string nbconvert = Outside.Program("jupyter-nbconvert");
        Install();
        string source = Path.Combine(Outside.Root, "notebooks", "recording-and-bursts.ipynb");
        await RunAsync(nbconvert, "--to", "notebook", "--execute", source, "--output", Path.Combine(folder, "ran.ipynb"), "--ExecutePreprocessor.timeout=300");
        JsonArray cells = (JsonArray)JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(folder, "ran.ipynb")))!["cells"]!;
        Assert.All(cells.Where(c => c!["cell_type"]!.GetValue<string>() == "code"), cell => Assert.DoesNotContain((JsonArray)cell!["outputs"]!, output => output!["output_type"]!.GetValue<string>() == "error"));
        string text = cells.ToJsonString();
        Assert.Contains("A burst of", text, StringComparison.Ordinal);
        Assert.Contains("Plotly.newPlot", text, StringComparison.Ordinal);
        Assert.DoesNotContain("src=\\\"http", text, StringComparison.OrdinalIgnoreCase);
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private void Install() => KernelInstaller.Install([.. NotebookRunner.OwnCommand(), "jupyter", "kernel", "--data", Path.Combine(folder, "data")], folder);

    private async Task<string> RunAsync(string program, params string[] arguments)
    {
        ProcessStartInfo start = new(program) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        start.Environment["JUPYTER_PATH"] = Path.Combine(folder, "share", "jupyter");
        start.Environment["HOME"] = folder;
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, await errors);
        return output;
    }
}
