using Grpc.Core;

namespace PostPipeline.Hosting.Failures;

/// <summary>
/// A failure that a service means the caller to see: its status, a reason for programs, a sentence for people.
/// Broken fields are <see cref="Validation.InvalidRequestException"/> instead.
/// </summary>
public sealed class ServiceFailureException : Exception
{
    private ServiceFailureException(StatusCode statusCode, string reason, string message, TimeSpan? retryAfter = null)
        : base(message) =>
        (StatusCode, Reason, RetryAfter) = (statusCode, reason, retryAfter);

    /// <summary>The gRPC status.</summary>
    public StatusCode StatusCode { get; }

    /// <summary>One of <see cref="FailureReason"/>.</summary>
    public string Reason { get; }

    /// <summary>When another attempt makes sense; null where the same request fails again.</summary>
    public TimeSpan? RetryAfter { get; }

    /// <summary>Something that the request names does not exist.</summary>
    /// <param name="what">What was looked for, for example <c>model</c>.</param>
    /// <param name="name">The name that was given.</param>
    public static ServiceFailureException NotFound(string what, string name) =>
        new(StatusCode.NotFound, FailureReason.NotFound, $"there is no {what} '{name}'");

    /// <summary>The request is good, but the service cannot answer it as things stand.</summary>
    /// <param name="message">What is missing and what to do about it.</param>
    public static ServiceFailureException NotReady(string message) =>
        new(StatusCode.FailedPrecondition, FailureReason.NotReady, message);

    /// <summary>Caller and service do not fit together.</summary>
    /// <param name="message">Both versions.</param>
    public static ServiceFailureException VersionMismatch(string message) =>
        new(StatusCode.FailedPrecondition, FailureReason.VersionMismatch, message);

    /// <summary>Too many calls at once.</summary>
    /// <param name="message">The bound that was reached.</param>
    /// <param name="retryAfter">When another attempt makes sense.</param>
    public static ServiceFailureException Overloaded(string message, TimeSpan retryAfter) =>
        new(StatusCode.ResourceExhausted, FailureReason.Overloaded, message, retryAfter);

    /// <summary>The call took longer than any call may.</summary>
    /// <param name="limit">The bound that was reached.</param>
    public static ServiceFailureException CallTooLong(TimeSpan limit) =>
        new(StatusCode.DeadlineExceeded, FailureReason.CallTooLong, $"the call took longer than {limit.TotalSeconds:0} s, the most that any call may take; ask for less at once");
}
