using System.CommandLine;
using System.Globalization;
using System.Text;
using Grpc.Core;
using PostPipeline.Cli.Commands.Farms;
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

    private static readonly Argument<string> File = new("log") { Description = "The log as comma-separated text with a header row, one attempt a row." };
    private static readonly Option<string?> Attempt = Given.Text("--attempt", "Column with the number of the attempt at its task, from 1; a column named attempt without it. Attempts that came before and have no row count as failed.", "COLUMN");
    private static readonly Option<string?> Out = Given.Text("--out", "File to write: seconds per frame of each good attempt, for train.", "FILE");

    private sealed record Result(
        int Attempts, int Tasks, int UnloggedAttempts, double? TaskOverheadSeconds, double FailureRate, double FailureRateLow, double FailureRateHigh, double RetryRate, int NeverDone,
        IReadOnlyList<JobRow> Jobs, IReadOnlyList<NodeRow> Nodes, IReadOnlyList<HourRow> Hours);

    private sealed record JobRow(string Job, long Frames, double? SecondsPerFrame, double NodeHours, double NodeShare);

    private sealed record NodeRow(string Node, int Attempts, double? TimeFactor, bool Slow);

    private sealed record HourRow(int Hour, double ActiveShare, double BusyShare);

    public static Command Create()
    {
        Command command = new("from-log", "Read a farm's own log: seconds per frame, task overhead, failures, slow nodes, hours.") { File };
        foreach (Option option in (Option[])[.. FarmLogOptions.All, Attempt, Out])
        {
            command.Add(option);
        }

        return command.Runs(RunAsync);
    }

    private static async Task<int> RunAsync(Session session)
    {
        IReadOnlyList<FarmLogRow> attempts = await session.ProgressAsync("reading the log", progress => Task.FromResult(
            FarmLog.Read(session, session.Line.GetRequiredValue(File), whole: true, session.Line.GetValue(Attempt), progress))).ConfigureAwait(false);
        SummarizeFarmLogResponse answer = await session.ProgressAsync("summing the log up", progress => SendAsync(session, attempts, progress)).ConfigureAwait(false);
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

    private static async Task<SummarizeFarmLogResponse> SendAsync(Session session, IReadOnlyList<FarmLogRow> attempts, IProgress<double> progress)
    {
        BenchmarkService.BenchmarkServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Benchmarks;
        using AsyncClientStreamingCall<SummarizeFarmLogRequest, SummarizeFarmLogResponse> call = client.SummarizeFarmLog(cancellationToken: session.Cancellation);
        try
        {
            await call.RequestStream.WriteAsync(new() { Clock = new() { OffsetMinutes = session.UtcOffset() } }, session.Cancellation).ConfigureAwait(false);
            int sent = 0;
            foreach (FarmLogRow[] some in attempts.Chunk(AttemptsInAMessage))
            {
                FarmLogAttempts message = new();
                message.Attempts.AddRange(some.Select(Message));
                await call.RequestStream.WriteAsync(new() { Attempts = message }, session.Cancellation).ConfigureAwait(false);
                progress.Report((double)(sent += some.Length) / attempts.Count);
            }

            await call.RequestStream.CompleteAsync().ConfigureAwait(false);
        }
        catch (Exception broken) when (broken is RpcException or InvalidOperationException)
        {
            // The service ended the call early; its answer below says why.
        }

        return await call.ResponseAsync.ConfigureAwait(false);
    }

    private static FarmLogAttempt Message(FarmLogRow row) => new()
    {
        Job = row.Job,
        Task = row.Task,
        Node = row.Node,
        StartSeconds = row.StartSeconds,
        EndSeconds = row.EndSeconds ?? 0,
        Frames = row.Frames,
        State = row.State,
        Attempt = row.Attempt,
    };

    private static string Rows(IReadOnlyList<FarmLogRow> attempts, SummarizeFarmLogResponse answer)
    {
        double overhead = answer.HasTaskOverheadSeconds ? answer.TaskOverheadSeconds : 0;
        StringBuilder text = new("project,task,node,frames,seconds,seconds_per_frame\n");
        foreach (FarmLogRow a in attempts.Where(a => a.State == AttemptState.Done && a.EndSeconds - a.StartSeconds > overhead))
        {
            double seconds = a.EndSeconds!.Value - a.StartSeconds;
            text.Append(CultureInfo.InvariantCulture, $"{CsvRows.Cell(a.Job)},{CsvRows.Cell(a.Task)},{CsvRows.Cell(a.Node)},{a.Frames},{seconds},{(seconds - overhead) / a.Frames}\n");
        }

        return text.ToString();
    }

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
