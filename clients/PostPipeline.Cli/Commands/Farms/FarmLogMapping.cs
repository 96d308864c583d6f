using System.Globalization;
using PostPipeline.Contracts.Rendering.V1;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary>How one farm's log is read: where its columns stand, from 0 (−1 where there is none), its words for states, its clock.</summary>
internal sealed record FarmLogMapping
{
    /// <summary>The job.</summary>
    public required int Job { get; init; }

    /// <summary>The task within the job.</summary>
    public required int Task { get; init; }

    /// <summary>The node.</summary>
    public required int Node { get; init; }

    /// <summary>The start.</summary>
    public required int Start { get; init; }

    /// <summary>The end.</summary>
    public required int End { get; init; }

    /// <summary>The frames.</summary>
    public required int Frames { get; init; }

    /// <summary>The state.</summary>
    public required int State { get; init; }

    /// <summary>What each word of the state column stands for, in any case of letters.</summary>
    public required IReadOnlyDictionary<string, AttemptState> Words { get; init; }

    /// <summary>Minutes by which times without an offset of their own are ahead of UTC.</summary>
    public required int UtcOffsetMinutes { get; init; }

    /// <summary>What a word of the state column stands for; unspecified where it was not named.</summary>
    public AttemptState StateOf(string word) => Words.GetValueOrDefault(word, AttemptState.Unspecified);

    /// <summary>A time of the log.</summary>
    public bool TryTime(string text, out double seconds) => TryTime(text, UtcOffsetMinutes, out seconds);

    /// <summary>A time: seconds since 1970-01-01 UTC, or a date and time on the log's clock.</summary>
    /// <param name="text">The text.</param>
    /// <param name="utcOffsetMinutes">Minutes by which times without an offset of their own are ahead of UTC.</param>
    /// <param name="seconds">Seconds since 1970-01-01 UTC.</param>
    public static bool TryTime(string text, int utcOffsetMinutes, out double seconds)
    {
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out seconds))
        {
            return double.IsFinite(seconds);
        }

        bool good = DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset time);
        seconds = time.ToUnixTimeMilliseconds() / 1000.0;

        // A time that carries its own offset keeps it; others stand on the farm's clock.
        bool own = text.EndsWith('Z') || (text.IndexOf('T', StringComparison.Ordinal) is > 0 and int at && text.AsSpan(at).IndexOfAny('+', '-') >= 0);
        seconds -= own ? 0 : utcOffsetMinutes * 60.0;
        return good;
    }
}
