using Grpc.Core;
using PostPipeline.Contracts;

namespace PostPipeline.Hosting.Interceptors;

/// <summary>The id that ties a caller's error to the service's log.</summary>
public static class CallCorrelation
{
    private const int MaximumLength = 64;

    private static readonly object Key = new();

    /// <summary>The id of a call: the caller's where it is well formed, else one made here.</summary>
    /// <param name="context">The call.</param>
    public static string Of(ServerCallContext context)
    {
        if (context.UserState.TryGetValue(Key, out object? known))
        {
            return (string)known;
        }

        string? given = context.RequestHeaders.GetValue(Wire.CorrelationHeader);
        string id = IsWellFormed(given) ? given! : Guid.NewGuid().ToString("N");
        context.UserState[Key] = id;
        return id;
    }

    // A header from outside goes into the log, so nothing but plain characters is taken over.
    private static bool IsWellFormed(string? text) =>
        text is { Length: > 0 and <= MaximumLength } && text.All(c => char.IsAsciiLetterOrDigit(c) || c == '-');
}
