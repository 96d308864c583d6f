using System.Threading.Channels;
using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>The handler's end of a stream of responses; waits while the reader is slow.</summary>
internal sealed class ResponseStreamWriter<TRequest, TResponse>(EmbeddedCall<TRequest, TResponse> call) : IServerStreamWriter<TResponse>
    where TRequest : class
    where TResponse : class
{
    private int writing;

    public WriteOptions? WriteOptions { get; set; }

    public Task WriteAsync(TResponse message) => WriteAsync(message, CancellationToken.None);

    public async Task WriteAsync(TResponse message, CancellationToken cancellationToken)
    {
        call.ServerToken.ThrowIfCancellationRequested();
        if (Interlocked.Exchange(ref writing, 1) != 0)
        {
            throw new InvalidOperationException("Can't write the message because the previous write is in progress.");
        }

        try
        {
            if (!Messages.Fits(message, call.Options.Settings.Limits.MaximumMessageBytes))
            {
                throw Messages.TooLargeToSend;
            }

            call.SendHeaders();
            TResponse copy = Messages.Copy(message, call.Method.ResponseMarshaller, call.Options.Copy);
            if (!call.Responses.Writer.TryWrite(copy))
            {
                using CancellationTokenSource both = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken, call.ServerToken);
                await call.Responses.Writer.WriteAsync(copy, both.Token).ConfigureAwait(false);
            }
        }
        catch (ChannelClosedException)
        {
            throw new OperationCanceledException("The call has ended.");
        }
        finally
        {
            Volatile.Write(ref writing, 0);
        }
    }
}
