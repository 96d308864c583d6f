using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary>How a farm's own log is read, whichever verb reads it: which column is what, and which words stand for which state.</summary>
internal static class FarmLogOptions
{
    private static readonly Option<string> Job = Column("--job", "job");
    private static readonly Option<string> Task = Column("--task", "task");
    private static readonly Option<string> Node = Column("--node", "node");
    private static readonly Option<string> Start = Column("--start", "start");
    private static readonly Option<string> End = Column("--end", "end");
    private static readonly Option<string> Frames = Column("--frames", "frames");
    private static readonly Option<string> State = Column("--state", "state");
    private static readonly Option<string[]> Done = Words("--done", "done");
    private static readonly Option<string[]> Failed = Words("--failed", "failed");
    private static readonly Option<string[]> Running = Words("--running", "running");
    private static readonly Option<int> Offset = new("--utc-offset") { Description = "Minutes by which times without an offset are ahead of UTC.", HelpName = "MIN" };

    /// <summary>The options, for the verbs that read a log.</summary>
    public static IReadOnlyList<Option> All { get; } = [Job, Task, Node, Start, End, Frames, State, Done, Failed, Running, Offset];

    /// <summary>Minutes by which the log's clock is ahead of UTC.</summary>
    public static int UtcOffset(this Session session) => session.Line.GetValue(Offset);

    /// <summary>The positions of the log's columns.</summary>
    /// <param name="session">The command line.</param>
    /// <param name="file">The log.</param>
    /// <param name="needTask">Whether a column with the task and one with the state must be there.</param>
    public static FarmLogColumns Columns(Session session, RowFile file, bool needTask)
    {
        int At(Option<string> option, bool needed)
        {
            // A column that the user named must be there; one by its usual name may be missing where nothing needs it.
            string name = session.Line.GetValue(option)!;
            return needed || session.Line.GetResult(option) is { Implicit: false } ? file.Needed(option.Name, name) : file.Position(name);
        }

        return new(At(Job, true), At(Task, needTask), At(Node, true), At(Start, true), At(End, true), At(Frames, true), At(State, needTask));
    }

    /// <summary>What a word of the state column stands for; unspecified where it was not named.</summary>
    public static AttemptState StateOf(this Session session, string word) =>
        Is(session, Done, word) ? AttemptState.Done
        : Is(session, Failed, word) ? AttemptState.Failed
        : Is(session, Running, word) ? AttemptState.Running : AttemptState.Unspecified;

    /// <summary>A time of the log: seconds since 1970-01-01 UTC, or a date and time on the log's clock.</summary>
    public static bool TryTime(this Session session, string text, out double seconds)
    {
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out seconds))
        {
            return double.IsFinite(seconds);
        }

        bool good = DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset time);
        seconds = time.ToUnixTimeMilliseconds() / 1000.0;

        // A time that carries its own offset keeps it; others stand on the farm's clock.
        bool own = text.EndsWith('Z') || (text.IndexOf('T', StringComparison.Ordinal) is > 0 and int at && text.AsSpan(at).IndexOfAny('+', '-') >= 0);
        seconds -= own ? 0 : session.UtcOffset() * 60.0;
        return good;
    }

    private static bool Is(Session session, Option<string[]> words, string word) => session.Line.GetValue(words)!.Contains(word, StringComparer.OrdinalIgnoreCase);

    private static Option<string> Column(string name, string column) => new(name) { Description = $"Column with the {column}.", DefaultValueFactory = _ => column, HelpName = "COLUMN" };

    private static Option<string[]> Words(string name, string word) => new(name)
    {
        Description = $"Words that the state column uses for {word}.",
        DefaultValueFactory = _ => [word],
        AllowMultipleArgumentsPerToken = true,
        HelpName = "WORD",
    };
}
