using Grpc.Core;

namespace PostPipeline.Client.Calls;

/// <summary>How the errors of one call are shown.</summary>
internal sealed class CallErrors(string method, CancellationToken cancellationToken)
{
    public Exception Show(RpcException failure) =>
        failure.StatusCode == StatusCode.Cancelled && cancellationToken.IsCancellationRequested
            ? new OperationCanceledException("The call was given up.", failure, cancellationToken)
            : ServiceCallException.From(failure, method);

    public async Task<T> Shown<T>(Task<T> task)
    {
        try
        {
            return await task.ConfigureAwait(false);
        }
        catch (RpcException failure)
        {
            throw Show(failure);
        }
    }

    public async Task Shown(Task task)
    {
        try
        {
            await task.ConfigureAwait(false);
        }
        catch (RpcException failure)
        {
            throw Show(failure);
        }
    }
}
