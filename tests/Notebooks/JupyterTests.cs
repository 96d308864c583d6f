using System.Diagnostics;
using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Jupyter;
using PostPipeline.Notebooks.Runs;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>Our kernel under the programs of the distribution: a notebook executed, and a cell interrupted.</summary>
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

    // jupyter_client comes with nbconvert; it speaks the protocol as every front end does.
    [SkippableFact]
    public async Task Client_Interrupts_AndTheKernelGoesOn()
    {
        // The interpreter that has the client is the one that nbconvert names in its first line.
        string python = (await File.ReadAllLinesAsync(Outside.Program("jupyter-nbconvert")))[0].TrimStart('#', '!').Split(' ')[0];
        Install();
        string script = Path.Combine(folder, "client.py");
        await File.WriteAllTextAsync(script, """
            import time
            from jupyter_client.manager import start_new_kernel
            manager, client = start_new_kernel(kernel_name="postpipeline", startup_timeout=240)
            def run(code, interrupt=False):
                asked = client.execute(code)
                if interrupt:
                    while client.get_iopub_msg(timeout=240)["msg_type"] != "execute_input":
                        pass
                    time.sleep(1)
                    manager.interrupt_kernel()
                return client.get_shell_msg(timeout=240)["content"]
            assert run("int a = 41;")["status"] == "ok"
            assert run("await Task.Delay(100000, Stop);", interrupt=True)["status"] == "error"
            assert run("if (a + 1 != 42) throw new Exception(\"lost\");")["status"] == "ok"
            client.is_complete("int F(int x) {")
            assert client.get_shell_msg(timeout=60)["content"]["status"] == "incomplete"
            client.complete("Math.Roun", 9)
            assert "Round" in client.get_shell_msg(timeout=240)["content"]["matches"]
            manager.shutdown_kernel()
            print("all well")
            """);
        Assert.Contains("all well", await RunAsync(python, script), StringComparison.Ordinal);
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
