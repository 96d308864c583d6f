using Grpc.AspNetCore.Server;
using Grpc.Core;

namespace PostPipeline.Hosting.Interceptors;

/// <summary>A call as its handler sees it: the same call with a token that also ends at the longest time allowed.</summary>
internal sealed class BoundedCallContext : ServerCallContext
{
    private readonly ServerCallContext call;
    private readonly CancellationToken cancellationToken;

    private BoundedCallContext(ServerCallContext call, CancellationToken cancellationToken) =>
        (this.call, this.cancellationToken) = (call, cancellationToken);

    protected override string MethodCore => call.Method;

    protected override string HostCore => call.Host;

    protected override string PeerCore => call.Peer;

    protected override DateTime DeadlineCore => call.Deadline;

    protected override Metadata RequestHeadersCore => call.RequestHeaders;

    protected override CancellationToken CancellationTokenCore => cancellationToken;

    protected override Metadata ResponseTrailersCore => call.ResponseTrailers;

    protected override Status StatusCore
    {
        get => call.Status;
        set => call.Status = value;
    }

    protected override WriteOptions? WriteOptionsCore
    {
        get => call.WriteOptions;
        set => call.WriteOptions = value;
    }

    protected override AuthContext AuthContextCore => call.AuthContext;

    protected override IDictionary<object, object> UserStateCore => call.UserState;

    protected override ContextPropagationToken CreatePropagationTokenCore(ContextPropagationOptions? options) => call.CreatePropagationToken(options);

    protected override Task WriteResponseHeadersAsyncCore(Metadata responseHeaders) => call.WriteResponseHeadersAsync(responseHeaders);

    public static BoundedCallContext Around(ServerCallContext call, CancellationToken cancellationToken)
    {
        // The network host finds its own context again through this entry, as it does for any context made by others.
        if (call is IServerCallContextFeature)
        {
            call.UserState["__HttpContext"] = call.GetHttpContext();
        }

        return new(call, cancellationToken);
    }
}
