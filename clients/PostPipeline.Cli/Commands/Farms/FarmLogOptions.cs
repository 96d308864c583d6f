using System.CommandLine;
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

    /// <summary>How a log is read.</summary>
    /// <param name="session">The command line.</param>
    /// <param name="file">The log.</param>
    /// <param name="whole">Whether a column with the task and one with the state must be there.</param>
    public static FarmLogMapping Mapping(Session session, RowFile file, bool whole)
    {
        int At(Option<string> option, bool needed)
        {
            // A column that the user named must be there; one by its usual name may be missing where nothing needs it.
            string name = session.Line.GetValue(option)!;
            return needed || session.Line.GetResult(option) is { Implicit: false } ? file.Needed(option.Name, name) : file.Position(name);
        }

        Dictionary<string, AttemptState> words = new(StringComparer.OrdinalIgnoreCase);
        foreach ((Option<string[]> option, AttemptState state) in new[] { (Done, AttemptState.Done), (Failed, AttemptState.Failed), (Running, AttemptState.Running) })
        {
            foreach (string word in session.Line.GetValue(option)!)
            {
                if (!words.TryAdd(word, state) && words[word] != state)
                {
                    throw new InputException(InputProblem.Of(option.Name, word, $"stands for {words[word].ToString().ToLowerInvariant()} already; allowed is one state for a word"));
                }
            }
        }

        return new()
        {
            Job = At(Job, true),
            Task = At(Task, whole),
            Node = At(Node, true),
            Start = At(Start, true),
            End = At(End, true),
            Frames = At(Frames, true),
            State = At(State, whole),
            Words = words,
            UtcOffsetMinutes = session.UtcOffset(),
        };
    }

    private static Option<string> Column(string name, string column) => new(name) { Description = $"Column with the {column}.", DefaultValueFactory = _ => column, HelpName = "COLUMN" };

    private static Option<string[]> Words(string name, string word) => new(name)
    {
        Description = $"Words that the state column uses for {word}.",
        DefaultValueFactory = _ => [word],
        AllowMultipleArgumentsPerToken = true,
        HelpName = "WORD",
    };
}
