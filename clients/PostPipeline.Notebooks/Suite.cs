using PostPipeline.Client;

namespace PostPipeline.Notebooks;

/// <summary>The services that cells call: inside this process, or wherever the command was told. Set once by the host of the notebook.</summary>
public static class Suite
{
    private static Func<CancellationToken, Task<SuiteClients>>? open;
    private static Task<SuiteClients>? opened;
    private static readonly Lock Gate = new();
    private static Task? learning;

    /// <summary>Typed clients of all services.</summary>
    /// <exception cref="InvalidOperationException">Nobody has said where the services are.</exception>
    public static Task<SuiteClients> ClientsAsync()
    {
        lock (Gate)
        {
            if (opened is null or { IsFaulted: true } or { IsCanceled: true })
            {
                opened = (open ?? throw new InvalidOperationException("this notebook is not run by postpipeline, so it has no services to call"))(CancellationToken.None);
            }

            return opened;
        }
    }

    /// <summary>Says where the services are.</summary>
    /// <param name="clients">Opens them at the first call.</param>
    public static void Use(Func<CancellationToken, Task<SuiteClients>> clients)
    {
        lock (Gate)
        {
            (open, opened, learning) = (clients, null, null);
        }
    }

    /// <summary>Learning of render times that was begun ahead of the cells; null where none was.</summary>
    internal static Task? Learning
    {
        get
        {
            lock (Gate)
            {
                return learning;
            }
        }
    }

    /// <summary>Begins what the cells of a notebook will ask for, while they are compiled. What goes wrong shows in the cell that asks.</summary>
    /// <param name="ahead">From <see cref="Documents.NotebookFile.Ahead"/>; what is not known is left out.</param>
    public static void Begin(IReadOnlyList<string> ahead)
    {
        if (ahead.Contains(Documents.NotebookCell.RenderTimesAhead))
        {
            Task begun = Task.Run(async () => await Studies.Preparing.Preparation.LearnAsync(await ClientsAsync().ConfigureAwait(false)).ConfigureAwait(false));
            lock (Gate)
            {
                learning = begun;
            }
        }
    }
}
