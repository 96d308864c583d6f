using PostPipeline.Notebooks.Engines;

namespace PostPipeline.Cli.Notebooks;

/// <summary>What the cells of a notebook can use when the command runs it: the clients, embedded or remote.</summary>
internal static class NotebookSetup
{
    public static CellSetup Cells { get; } = CellSetup.Basic;
}
