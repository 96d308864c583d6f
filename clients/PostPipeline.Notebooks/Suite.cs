using PostPipeline.Client;

namespace PostPipeline.Notebooks;

/// <summary>The services that cells call: inside this process, or wherever the command was told. Set once by the host of the notebook.</summary>
public static class Suite
{
    private static Func<CancellationToken, Task<SuiteClients>>? open;
    private static Task<SuiteClients>? opened;
    private static readonly Lock Gate = new();

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
            (open, opened) = (clients, null);
        }
    }
}
