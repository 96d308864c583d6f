using Google.Protobuf.WellKnownTypes;
using Google.Rpc;
using Grpc.Core;
using Microsoft.AspNetCore.Connections;
using PostPipeline.Contracts;
using PostPipeline.Hosting.Validation;

namespace PostPipeline.Hosting.Failures;

/// <summary>The one function from an exception inside a service to the status that its caller sees.</summary>
public static class ExceptionStatus
{
    /// <summary>Whether a failure is the service's own fault, so that its log must keep the exception.</summary>
    /// <param name="status">What <see cref="From"/> gave.</param>
    public static bool IsFault(RpcException status) => status.StatusCode is StatusCode.Internal or StatusCode.Unknown or StatusCode.DataLoss;

    /// <summary>The status for an exception.</summary>
    /// <param name="exception">What was thrown.</param>
    /// <param name="cancelled">Whether the call was cancelled, by its caller or its deadline.</param>
    /// <param name="deadlinePassed">Whether the caller's deadline has passed.</param>
    /// <param name="correlationId">The call's id in the log.</param>
    /// <returns>A status with <c>ErrorInfo</c> and, for broken fields, <c>BadRequest</c>.</returns>
    public static RpcException From(Exception exception, bool cancelled, bool deadlinePassed, string correlationId) => exception switch
    {
        RpcException status => status,
        InvalidRequestException invalid => InvalidFields(invalid, correlationId),
        ServiceFailureException failure => Rich(failure.StatusCode, failure.Reason, failure.Message, correlationId, Retry(failure.RetryAfter)),
        _ when cancelled && deadlinePassed => Rich(StatusCode.DeadlineExceeded, FailureReason.DeadlinePassed, "the deadline passed before the answer was ready", correlationId),
        _ when cancelled || IsGone(exception) => Rich(StatusCode.Cancelled, FailureReason.Cancelled, "the caller gave up the call", correlationId),
        ArgumentException refusal when FromOurDomain(refusal) => InvalidFields(
            new([new(refusal.ParamName ?? string.Empty, "is refused: " + Violations.Sentence(refusal))], 1), correlationId),
        OverflowException => Rich(
            StatusCode.InvalidArgument, FailureReason.InvalidFields, "the numbers of the request lead beyond what 64 bits hold (9.2 EB, 9.2 quintillion frames); ask for less", correlationId),
        _ => Rich(StatusCode.Internal, FailureReason.Internal, $"the service failed unexpectedly; its log has the cause under {correlationId}", correlationId),
    };

    // Where a caller vanishes, the network host fails the read or write at once and cancels the call's token a little later.
    private static bool IsGone(Exception exception) =>
        exception is OperationCanceledException or ConnectionResetException || exception is IOException { Source: "Microsoft.AspNetCore.Server.Kestrel.Core" };

    // The domain's refusals are sentences for people. One from the runtime (an index, a null) is a fault of ours, and
    // its text would only leak details.
    private static bool FromOurDomain(Exception exception) =>
        exception.Source?.StartsWith("PostPipeline.", StringComparison.Ordinal) is true;

    private static RpcException InvalidFields(InvalidRequestException invalid, string correlationId)
    {
        BadRequest details = new();
        details.FieldViolations.AddRange(invalid.Violations.Select(v => new BadRequest.Types.FieldViolation { Field = v.Field, Description = v.Problem }));
        return Rich(StatusCode.InvalidArgument, FailureReason.InvalidFields, invalid.Message, correlationId, Any.Pack(details));
    }

    private static Any? Retry(TimeSpan? after) =>
        after is { } delay ? Any.Pack(new RetryInfo { RetryDelay = Duration.FromTimeSpan(delay) }) : null;

    private static RpcException Rich(StatusCode code, string reason, string message, string correlationId, Any? more = null)
    {
        Google.Rpc.Status status = new() { Code = (int)code, Message = message };
        ErrorInfo info = new() { Domain = Wire.ErrorDomain, Reason = reason };
        info.Metadata.Add("correlation_id", correlationId);
        status.Details.Add(Any.Pack(info));
        if (more is not null)
        {
            status.Details.Add(more);
        }

        return status.ToRpcException();
    }
}
