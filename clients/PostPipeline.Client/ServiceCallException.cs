using Google.Rpc;
using Grpc.Core;

namespace PostPipeline.Client;

/// <summary>A call that a service answered with an error, in words for people and with fields for programs.</summary>
public sealed class ServiceCallException : Exception
{
    private ServiceCallException(string message, RpcException cause)
        : base(message, cause) => StatusCode = cause.StatusCode;

    /// <summary>The gRPC status.</summary>
    public StatusCode StatusCode { get; }

    /// <summary>The reason for programs, such as <c>INVALID_FIELDS</c>; empty where the transport failed.</summary>
    public string Reason { get; private init; } = string.Empty;

    /// <summary>Every field that is wrong, where the request was.</summary>
    public IReadOnlyList<FieldViolation> Violations { get; private init; } = [];

    /// <summary>The id under which the service logged the call; empty where it never arrived.</summary>
    public string CorrelationId { get; private init; } = string.Empty;

    /// <summary>When another attempt makes sense, where the service said so.</summary>
    public TimeSpan? RetryAfter { get; private init; }

    /// <summary>Reads the rich status of an error.</summary>
    /// <param name="failure">What the call gave.</param>
    /// <param name="method">The full name of the method that was called.</param>
    public static ServiceCallException From(RpcException failure, string method)
    {
        Google.Rpc.Status? status = failure.GetRpcStatus();
        ErrorInfo? info = status?.GetDetail<ErrorInfo>();
        FieldViolation[] violations = [.. (status?.GetDetail<BadRequest>()?.FieldViolations ?? []).Select(v => new FieldViolation(v.Field, v.Description))];
        return new(Describe(failure, method, violations), failure)
        {
            Reason = info?.Reason ?? string.Empty,
            Violations = violations,
            CorrelationId = info is not null && info.Metadata.TryGetValue("correlation_id", out string? id) ? id : string.Empty,
            RetryAfter = status?.GetDetail<RetryInfo>()?.RetryDelay?.ToTimeSpan(),
        };
    }

    private static string Describe(RpcException failure, string method, FieldViolation[] violations)
    {
        string service = Service(method);
        return failure.StatusCode switch
        {
            StatusCode.Unavailable => $"the {service} service cannot be reached: {failure.Status.Detail}",
            StatusCode.Unimplemented => $"the {service} service does not know {method}; use a client and services of the same release",
            StatusCode.DeadlineExceeded when failure.Status.Detail.Length == 0 => $"the {service} service did not answer in time",
            _ when violations.Length > 1 => $"the {service} service refuses {violations.Length} fields: {string.Join("; ", violations)}",
            _ => $"the {service} service answers: {failure.Status.Detail}",
        };
    }

    // "/postpipeline.timecode.v1.ConformService/RehearsePlan" is the timecode service to a person.
    private static string Service(string method)
    {
        string[] parts = method.TrimStart('/').Split('.');
        return parts.Length > 1 ? parts[1] : method;
    }
}
