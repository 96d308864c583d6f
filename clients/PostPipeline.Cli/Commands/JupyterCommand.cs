using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Cli.Notebooks;
using PostPipeline.Notebooks.Jupyter;
using PostPipeline.Notebooks.Runs;

namespace PostPipeline.Cli.Commands;

/// <summary><c>jupyter</c>: our kernel for Jupyter.</summary>
internal static class JupyterCommand
{
    private static readonly Option<string?> Prefix = new("--prefix")
    {
        Description = "Install under this prefix, for example a virtual environment, and not in the person's own folder.",
        HelpName = "DIR",
    };

    private static readonly Argument<string> Connection = new("connection_file") { Description = "The file that Jupyter hands over." };

    public static Command Create()
    {
        Command install = new Command("install", "Make the kernel known to Jupyter.") { Prefix }.Runs(session =>
        {
            string file = KernelInstaller.Install([.. NotebookRunner.OwnCommand(), "jupyter", "kernel"], session.Line.GetValue(Prefix));
            session.Line.InvocationConfiguration.Output.WriteLine($"Written: {file}");
            return Task.FromResult(ExitCode.Done);
        });
        Command kernel = new Command("kernel", "Run the kernel; Jupyter calls this.") { Connection }.Runs(async session =>
        {
            string path = session.Line.GetValue(Connection)!;
            try
            {
                NotebookSetup.Prepare(new(session.Services, session.DataFolder));
                using JupyterKernel serving = new(ConnectionFile.Read(path), NotebookSetup.Cells);
                await serving.RunAsync().ConfigureAwait(false);
                return ExitCode.Done;
            }
            catch (InvalidDataException problem)
            {
                throw new InputException(InputProblem.Of("connection_file", path, problem.Message));
            }
        });
        return new("jupyter", "The notebooks under Jupyter, by a kernel of our own.") { install, kernel };
    }
}
