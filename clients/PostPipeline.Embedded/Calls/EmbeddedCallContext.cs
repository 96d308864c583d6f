using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>What a handler knows of its call.</summary>
internal sealed class EmbeddedCallContext(string method, DateTime deadline, Metadata requestHeaders, Action<Metadata> sendHeaders, CancellationToken cancellationToken)
    : ServerCallContext
{
    private static readonly AuthContext Anonymous = new(null, []);

    private readonly Metadata trailers = [];
    private Dictionary<object, object>? userState;
    private bool headersSent;

    protected override string MethodCore => method;

    protected override string HostCore => "embedded";

    protected override string PeerCore => "embedded";

    protected override DateTime DeadlineCore => deadline;

    protected override Metadata RequestHeadersCore => requestHeaders;

    protected override CancellationToken CancellationTokenCore => cancellationToken;

    protected override Metadata ResponseTrailersCore => trailers;

    protected override Status StatusCore { get; set; }

    protected override WriteOptions? WriteOptionsCore { get; set; }

    protected override AuthContext AuthContextCore => Anonymous;

    protected override IDictionary<object, object> UserStateCore => userState ??= [];

    protected override ContextPropagationToken CreatePropagationTokenCore(ContextPropagationOptions? options) =>
        throw new NotSupportedException("A call made by a service passes on its deadline itself.");

    protected override Task WriteResponseHeadersAsyncCore(Metadata responseHeaders)
    {
        if (headersSent)
        {
            throw new InvalidOperationException("Response headers have been sent already.");
        }

        SendHeaders(responseHeaders);
        return Task.CompletedTask;
    }

    // Headers go out with the first message or with the status, where the handler did not send them before.
    internal void SendHeaders(Metadata? headers = null)
    {
        if (!headersSent)
        {
            headersSent = true;
            sendHeaders(headers ?? []);
        }
    }
}
