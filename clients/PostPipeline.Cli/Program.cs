using PostPipeline.Cli.Notebooks;
using PostPipeline.Notebooks.Runs;

if (args is [NotebookWorker.Word, string pipe])
{
    return await NotebookWorker.RunAsync(pipe, NotebookSetup.Cells).ConfigureAwait(false);
}

return 0;
