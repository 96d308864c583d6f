namespace PostPipeline.Hosting.Failures;

/// <summary>Reasons in <c>google.rpc.ErrorInfo</c>, for programs. A reason keeps its name for ever.</summary>
public static class FailureReason
{
    /// <summary>Fields of the request broke their rules; see <c>google.rpc.BadRequest</c>.</summary>
    public const string InvalidFields = "INVALID_FIELDS";

    /// <summary>Something that the request names does not exist.</summary>
    public const string NotFound = "NOT_FOUND";

    /// <summary>The request is good, but the service is not in a state to answer it.</summary>
    public const string NotReady = "NOT_READY";

    /// <summary>Caller and service were built for different contracts or engines.</summary>
    public const string VersionMismatch = "VERSION_MISMATCH";

    /// <summary>Too many calls at once; try again after the delay in <c>google.rpc.RetryInfo</c>.</summary>
    public const string Overloaded = "OVERLOADED";

    /// <summary>The call took longer than any call may.</summary>
    public const string CallTooLong = "CALL_TOO_LONG";

    /// <summary>The caller gave up.</summary>
    public const string Cancelled = "CANCELLED";

    /// <summary>The caller's deadline passed.</summary>
    public const string DeadlinePassed = "DEADLINE_PASSED";

    /// <summary>Something unexpected; the service's log has it under the correlation id.</summary>
    public const string Internal = "INTERNAL";
}
