using PostPipeline.Cli.Frame;
using PostPipeline.Cli.Notebooks;
using PostPipeline.Notebooks.Runs;

// The same executable runs the cells of a notebook in a process of their own; that is not a verb for people.
return args is [NotebookWorker.Word, string pipe]
    ? await NotebookWorker.RunAsync(pipe, NotebookSetup.Cells, NotebookSetup.Prepare).ConfigureAwait(false)
    : await CommandLine.RunAsync(args).ConfigureAwait(false);
