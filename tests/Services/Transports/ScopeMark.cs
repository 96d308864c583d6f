namespace PostPipeline.Services.Tests.Transports;

/// <summary>One for each call, disposed when the call's scope ends.</summary>
public sealed class ScopeMark : IDisposable
{
    private readonly ProbeLog log;

    public ScopeMark(ProbeLog log)
    {
        this.log = log;
        log.OpenScope();
    }

    public string Id { get; } = Guid.NewGuid().ToString("N");

    public void Dispose() => log.CloseScope();
}
