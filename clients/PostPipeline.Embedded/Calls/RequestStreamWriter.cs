using System.Threading.Channels;
using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>The caller's end of a stream of requests.</summary>
internal sealed class RequestStreamWriter<TRequest, TResponse>(EmbeddedCall<TRequest, TResponse> call) : IClientStreamWriter<TRequest>
    where TRequest : class
    where TResponse : class
{
    private bool complete;
    private int writing;

    public WriteOptions? WriteOptions { get; set; }

    public Task WriteAsync(TRequest message) => WriteAsync(message, CancellationToken.None);

    public async Task WriteAsync(TRequest message, CancellationToken cancellationToken)
    {
        ThrowIfEnded();
        if (complete)
        {
            throw new InvalidOperationException("Can't write the message because the client stream writer is complete.");
        }

        if (Interlocked.Exchange(ref writing, 1) != 0)
        {
            throw new InvalidOperationException("Can't write the message because the previous write is in progress.");
        }

        try
        {
            // A message that is too large is the reader's to refuse, as over the network; it is not copied for that.
            bool fits = Messages.Fits(message, call.Options.Settings.Limits.MaximumMessageBytes);
            TRequest copy = fits ? Messages.Copy(message, call.Method.RequestMarshaller, call.Options.Copy) : message;
            using CancellationTokenRegistration giveUp = cancellationToken.UnsafeRegister(static state => ((EmbeddedCall<TRequest, TResponse>)state!).Dispose(), call);
            await call.Requests.Writer.WriteAsync(copy, CancellationToken.None).ConfigureAwait(false);
        }
        catch (ChannelClosedException)
        {
            ThrowIfEnded();
            throw;
        }
        finally
        {
            Volatile.Write(ref writing, 0);
        }
    }

    public Task CompleteAsync()
    {
        complete = true;
        call.Requests.Writer.TryComplete();
        return Task.CompletedTask;
    }

    private void ThrowIfEnded()
    {
        if (call.Ended is { } ended)
        {
            throw ended.ToException();
        }
    }
}
