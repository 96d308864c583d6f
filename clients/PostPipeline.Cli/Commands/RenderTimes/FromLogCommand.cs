using System.CommandLine;
using System.Globalization;
using System.Text;
using Grpc.Core;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary><c>benchmarks from-log</c>: a farm's own log as measurements.</summary>
internal static class FromLogCommand
{
    private const int AttemptsInAMessage = 500;
    private const int MostAttempts = 10_000;

    private static readonly Argument<string> File = new("log") { Description = "The log as comma-separated text with a header row, one attempt a row." };
    private static readonly Option<string> Job = Column("--job", "job");
    private static readonly Option<string> Task = Column("--task", "task");
    private static readonly Option<string> Node = Column("--node", "node");
    private static readonly Option<string> Start = Column("--start", "start");
    private static readonly Option<string> End = Column("--end", "end");
    private static readonly Option<string> Frames = Column("--frames", "frames");
    private static readonly Option<string> State = Column("--state", "state");
    private static readonly Option<string?> Attempt = Given.Text("--attempt", "Column with the number of the attempt at its task, from 1; a column named attempt without it. Attempts that came before and have no row count as failed.", "COLUMN");
    private static readonly Option<string[]> Done = Words("--done", "done");
    private static readonly Option<string[]> Failed = Words("--failed", "failed");
    private static readonly Option<string[]> Running = Words("--running", "running");
    private static readonly Option<int> Offset = new("--utc-offset") { Description = "Minutes by which times without an offset are ahead of UTC.", HelpName = "MIN" };
    private static readonly Option<string?> Out = Given.Text("--out", "File to write: seconds per frame of each good attempt, for train.", "FILE");

    private sealed record Result(
        int Attempts, int Tasks, int UnloggedAttempts, double? TaskOverheadSeconds, double FailureRate, double FailureRateLow, double FailureRateHigh, double RetryRate, int NeverDone,
        IReadOnlyList<JobRow> Jobs, IReadOnlyList<NodeRow> Nodes, IReadOnlyList<HourRow> Hours);

    private sealed record JobRow(string Job, long Frames, double? SecondsPerFrame, double NodeHours, double NodeShare);

    private sealed record NodeRow(string Node, int Attempts, double? TimeFactor, bool Slow);

    private sealed record HourRow(int Hour, double ActiveShare, double BusyShare);

    public static Command Create() => new Command("from-log", "Read a farm's own log: seconds per frame, task overhead, failures, slow nodes, hours.")
    {
        File, Job, Task, Node, Start, End, Frames, State, Attempt, Done, Failed, Running, Offset, Out,
    }.Runs(RunAsync);

    private static async Task<int> RunAsync(Session session)
    {
        List<FarmLogAttempt> attempts = Read(session);
        SummarizeFarmLogResponse answer = await Send(session, attempts).ConfigureAwait(false);
        if (session.Line.GetValue(Out) is { } path)
        {
            string full = Path.GetFullPath(path);
            OutputFolder.Open(Path.GetDirectoryName(full)!).Write(Path.GetFileName(full), Rows(attempts, answer));
        }

        Result result = new(
            answer.Attempts, answer.Tasks, answer.UnloggedAttempts, answer.HasTaskOverheadSeconds ? answer.TaskOverheadSeconds : null,
            answer.FailureRate, answer.FailureRateLow, answer.FailureRateHigh, answer.RetryRate, answer.NeverDone,
            [.. answer.Jobs.Select(j => new JobRow(j.Job, j.Frames, j.HasSecondsPerFrame ? j.SecondsPerFrame : null, j.NodeHours, j.NodeShare))],
            [.. answer.Nodes.Select(n => new NodeRow(n.Node, n.Attempts, n.HasTimeFactor ? n.TimeFactor : null, n.Slow))],
            [.. answer.Hours.Select(h => new HourRow(h.Hour, h.ActiveShare, h.BusyShare))]);
        return session.Answer("postpipeline.benchmarks.log/1", result, console => Print(console, result));
    }

    private static List<FarmLogAttempt> Read(Session session)
    {
        string path = session.Line.GetRequiredValue(File);
        RowFile file = RowFile.Open(path);
        int At(Option<string> option) => file.Needed(option.Name, session.Line.GetValue(option)!);
        (int job, int task, int node, int start, int end, int frames, int state) = (At(Job), At(Task), At(Node), At(Start), At(End), At(Frames), At(State));
        int number = session.Line.GetValue(Attempt) is { } column ? file.Needed(Attempt.Name, column) : file.Position("attempt");
        List<FarmLogAttempt> attempts = [];
        List<InputProblem> problems = [];
        foreach ((long line, string[] cells) in file.Rows())
        {
            FarmLogAttempt attempt = new() { Job = cells[job], Task = cells[task], Node = cells[node] };
            void Wrong(int column, string allowed) => problems.Add(new(path, line, 0, file.Columns[column], cells[column], allowed));
            attempt.State = Is(session, Done, cells[state]) ? AttemptState.Done
                : Is(session, Failed, cells[state]) ? AttemptState.Failed
                : Is(session, Running, cells[state]) ? AttemptState.Running : AttemptState.Unspecified;
            if (attempt.State == AttemptState.Unspecified)
            {
                Wrong(state, "allowed are the words of --done, --failed and --running");
            }

            if (long.TryParse(cells[frames], NumberStyles.None, CultureInfo.InvariantCulture, out long count) && count > 0)
            {
                attempt.Frames = count;
            }
            else
            {
                Wrong(frames, "allowed is a whole number of frames, 1 or more");
            }

            if (number >= 0 && cells[number].Trim().Length > 0)
            {
                if (int.TryParse(cells[number].Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int which) && which is >= 1 and <= MostAttempts)
                {
                    attempt.Attempt = which;
                }
                else
                {
                    Wrong(number, $"allowed is the number of the attempt, 1 to {MostAttempts}, or nothing");
                }
            }

            if (TryTime(session, cells[start], out double from))
            {
                attempt.StartSeconds = from;
            }
            else
            {
                Wrong(start, "allowed is a time such as 2026-03-02T19:30:00 or seconds since 1970-01-01 UTC");
            }

            if (attempt.State is AttemptState.Done or AttemptState.Failed)
            {
                if (TryTime(session, cells[end], out double until) && until >= attempt.StartSeconds)
                {
                    attempt.EndSeconds = until;
                }
                else
                {
                    Wrong(end, "allowed is a time that is not before the start");
                }
            }

            attempts.Add(attempt);
            if (problems.Count >= 100)
            {
                break;
            }
        }

        return problems.Count > 0 ? throw new InputException(problems) : attempts;
    }

    private static async Task<SummarizeFarmLogResponse> Send(Session session, List<FarmLogAttempt> attempts)
    {
        BenchmarkService.BenchmarkServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Benchmarks;
        using AsyncClientStreamingCall<SummarizeFarmLogRequest, SummarizeFarmLogResponse> call = client.SummarizeFarmLog(cancellationToken: session.Cancellation);
        await call.RequestStream.WriteAsync(new() { Clock = new() { OffsetMinutes = session.Line.GetValue(Offset) } }, session.Cancellation).ConfigureAwait(false);
        foreach (FarmLogAttempt[] some in attempts.Chunk(AttemptsInAMessage))
        {
            FarmLogAttempts message = new();
            message.Attempts.AddRange(some);
            await call.RequestStream.WriteAsync(new() { Attempts = message }, session.Cancellation).ConfigureAwait(false);
        }

        await call.RequestStream.CompleteAsync().ConfigureAwait(false);
        return await call.ResponseAsync.ConfigureAwait(false);
    }

    private static string Rows(List<FarmLogAttempt> attempts, SummarizeFarmLogResponse answer)
    {
        double overhead = answer.HasTaskOverheadSeconds ? answer.TaskOverheadSeconds : 0;
        StringBuilder text = new("project,task,node,frames,seconds,seconds_per_frame\n");
        foreach (FarmLogAttempt a in attempts.Where(a => a.State == AttemptState.Done && a.EndSeconds - a.StartSeconds > overhead))
        {
            double seconds = a.EndSeconds - a.StartSeconds;
            text.Append(CultureInfo.InvariantCulture, $"{CsvRows.Cell(a.Job)},{CsvRows.Cell(a.Task)},{CsvRows.Cell(a.Node)},{a.Frames},{seconds},{(seconds - overhead) / a.Frames}\n");
        }

        return text.ToString();
    }

    private static bool TryTime(Session session, string text, out double seconds)
    {
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out seconds))
        {
            return double.IsFinite(seconds);
        }

        bool good = DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset time);
        seconds = time.ToUnixTimeMilliseconds() / 1000.0;

        // A time that carries its own offset keeps it; others stand on the farm's clock.
        bool own = text.EndsWith('Z') || (text.IndexOf('T', StringComparison.Ordinal) is > 0 and int at && text.AsSpan(at).IndexOfAny('+', '-') >= 0);
        seconds -= own ? 0 : session.Line.GetValue(Offset) * 60.0;
        return good;
    }

    private static bool Is(Session session, Option<string[]> words, string state) =>
        session.Line.GetValue(words)!.Contains(state.Trim(), StringComparer.OrdinalIgnoreCase);

    private static Option<string> Column(string name, string column) => new(name) { Description = $"Column with the {column}.", DefaultValueFactory = _ => column, HelpName = "COLUMN" };

    private static Option<string[]> Words(string name, string word) => new(name)
    {
        Description = $"Words that the state column uses for {word}.",
        DefaultValueFactory = _ => [word],
        AllowMultipleArgumentsPerToken = true,
        HelpName = "WORD",
    };

    private static void Print(IAnsiConsole console, Result result)
    {
        console.WriteLine($"{result.Attempts} attempts at {result.Tasks} tasks{(result.UnloggedAttempts > 0 ? $"; {result.UnloggedAttempts} earlier ones have no row and count as failed" : string.Empty)}");
        console.WriteLine(result.TaskOverheadSeconds is { } overhead
            ? $"Overhead of a task: {Numbers.Three(overhead)} s"
            : "Overhead of a task: not known; no job has tasks of different lengths");
        console.WriteLine(
            $"Attempts that failed: {Numbers.Three(100 * result.FailureRate)} % (90 % interval {Numbers.Three(100 * result.FailureRateLow)} to {Numbers.Three(100 * result.FailureRateHigh)} %); "
            + $"tasks tried again: {Numbers.Three(100 * result.RetryRate)} %; never done: {result.NeverDone}");
        Table jobs = new Table().AddColumn("job").AddColumn(new TableColumn("frames").RightAligned()).AddColumn(new TableColumn("s per frame").RightAligned()).AddColumn(new TableColumn("node-hours").RightAligned()).AddColumn(new TableColumn("share").RightAligned());
        foreach (JobRow job in result.Jobs)
        {
            jobs.AddRow(Markup.Escape(job.Job), $"{job.Frames}", job.SecondsPerFrame is { } s ? Numbers.Three(s) : "not known", Numbers.Three(job.NodeHours), $"{Numbers.Three(100 * job.NodeShare)} %");
        }

        console.Write(jobs);
        foreach (NodeRow node in result.Nodes.Where(n => n.Slow))
        {
            console.WriteLine($"Slow node {node.Node}: {Numbers.Three(node.TimeFactor ?? 0)} times as long as usual over {node.Attempts} attempts");
        }

        Table hours = new Table().AddColumn("hour").AddColumn(new TableColumn("nodes at work").RightAligned()).AddColumn(new TableColumn("time busy").RightAligned());
        foreach (HourRow hour in result.Hours)
        {
            hours.AddRow($"{hour.Hour:00}", $"{Numbers.Three(100 * hour.ActiveShare)} %", $"{Numbers.Three(100 * hour.BusyShare)} %");
        }

        console.Write(hours);
    }
}
