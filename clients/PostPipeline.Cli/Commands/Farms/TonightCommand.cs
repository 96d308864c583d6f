using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Farms;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary><c>tonight</c>: what is running now, from the farm's own log: finishes, misses, changes, stuck tasks.</summary>
internal static class TonightCommand
{
    private static readonly Option<string> Log = new("--log") { Description = "The farm's log, as benchmarks from-log reads it; the columns task and state may be missing, and end is empty while a task runs.", HelpName = "FILE", Required = true };
    private static readonly Option<string?> Now = new("--now") { Description = "The instant of the forecast, the file's epoch; the last time in the log without it.", HelpName = "TIME" };

    private sealed record JobRow(string Job, double FinishP50Seconds, double FinishP90Seconds, Likelihood? OnTime, bool WillMiss, double LaterSeconds);

    private sealed record Night(string Change, IReadOnlyList<JobRow> Jobs, double WorkBoundSeconds, double LongestTaskBoundSeconds);

    private sealed record Stuck(string Job, string Node, double ElapsedSeconds, double ExpectedSeconds, double Chance);

    private sealed record Answer(string Now, long Seed, int Replications, IReadOnlyList<Night> Nights, IReadOnlyList<Stuck> StuckTasks, IReadOnlyList<string> Notes);

    public static Command Create()
    {
        Command command = new("tonight", "Forecast what is running now from the farm's own log: finishes, what will miss, what a change would do, what looks stuck.")
        {
            FarmOptions.File, Log, Now, FarmOptions.Seed, FarmOptions.Replications,
        };
        foreach (Option option in FarmLogOptions.All)
        {
            command.Add(option);
        }

        return command.Runs(RunAsync);
    }

    private static async Task<int> RunAsync(Session session)
    {
        ForecastTonightRequest request = FarmFile.ReadFile<ForecastTonightRequest>(session.Line.GetValue(FarmOptions.File)!);
        string path = session.Line.GetValue(Log)!;
        IReadOnlyList<FarmLogRow> rows = await session.ProgressAsync("reading the log", progress => Task.FromResult(FarmLog.Read(session, path, whole: false, progress: progress))).ConfigureAwait(false);
        double now = NowOf(session, rows);
        List<FarmLogRow> running = FillFrom(request, rows, path, now);
        request.Seed = session.SeedOf(request.Seed);
        request.Replications = session.ReplicationsOf(request.Replications);
        FarmService.FarmServiceClient farm = (await session.ClientsAsync().ConfigureAwait(false)).Farm;
        ForecastTonightResponse response = await session.ProgressAsync("forecasting the night", progress => FarmOptions.LastAsync(
            farm.StreamTonightForecast(new() { Question = request }, cancellationToken: session.Cancellation), p => p.Progress, p => p.Result, progress, session.Cancellation)).ConfigureAwait(false);
        Answer answer = new(
            DateTimeOffset.FromUnixTimeMilliseconds((long)Math.Round(now * 1000)).UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture), response.Seed, response.Replications,
            [.. response.Forecasts.Select(f => new Night(f.Label.Length > 0 ? f.Label : "as it stands", [.. f.Jobs.Select(j => new JobRow(j.Label, j.FinishP50Seconds, j.FinishP90Seconds, j.OnTime, j.WillMiss, j.LaterSeconds))], f.WorkBoundSeconds, f.LongestTaskBoundSeconds))],
            [.. response.Stuck.Select(s => new Stuck(s.Job, running[s.Running].Node, s.ElapsedSeconds, s.ExpectedSeconds, s.Chance))], [.. response.Notes]);
        bool misses = response.Forecasts.Count > 0 && response.Forecasts[0].Jobs.Any(j => j.WillMiss);
        return session.Answer("postpipeline.tonight/1", answer, console => Print(console, answer), misses ? ExitCode.No : ExitCode.Done);
    }

    private static double NowOf(Session session, IReadOnlyList<FarmLogRow> rows)
    {
        if (session.Line.GetValue(Now) is not string text)
        {
            return rows.Count == 0 ? 0 : rows.Max(r => r.EndSeconds ?? r.StartSeconds);
        }

        return FarmLogMapping.TryTime(text, session.UtcOffset(), out double now) ? now : throw new InputException(InputProblem.Of("--now", text, "allowed is a time such as 2031-05-04T22:10:00Z"));
    }

    // The file says how many frames each job has; the log says which are done and which are under way. Seconds per frame that
    // the file leaves open come from the job's finished tasks.
    private static List<FarmLogRow> FillFrom(ForecastTonightRequest request, IReadOnlyList<FarmLogRow> rows, string path, double now)
    {
        List<InputProblem> problems = [];
        List<FarmLogRow> running = [];
        HashSet<string> busy = new(StringComparer.Ordinal);
        Dictionary<string, int> nodes = NodesOf(request.Farm ?? new(), rows, path, problems);
        for (int j = 0; j < request.Jobs.Count; j++)
        {
            FarmJob job = request.Jobs[j];
            FarmLogRow[] own = [.. rows.Where(r => r.Job == job.Label)];
            FarmLogRow[] finished = [.. own.Where(r => r.EndSeconds is not null && (r.Word.Length == 0 || r.State == AttemptState.Done))];
            if (job.SecondsPerFrame == 0 && finished.Length > 0)
            {
                double[] perFrame = [.. finished.Select(r => Math.Max(0, (r.EndSeconds!.Value - r.StartSeconds - job.OverheadSeconds) / r.Frames)).Order()];
                job.SecondsPerFrame = Quantities.Quantiles.OfSorted(perFrame, 0.5);
                double[] logs = [.. perFrame.Where(s => s > 0).Select(s => Math.Log(s))];
                if (job.TaskLogStandardDeviation == 0 && logs.Length > 1)
                {
                    double mean = logs.Average();
                    job.TaskLogStandardDeviation = Math.Sqrt(logs.Sum(l => (l - mean) * (l - mean)) / (logs.Length - 1));
                }
            }

            long left = job.Frames - finished.Sum(r => r.Frames);
            foreach (FarmLogRow row in own.Where(r => r.EndSeconds is null))
            {
                if (row.State is AttemptState.Done or AttemptState.Failed)
                {
                    problems.Add(new(path, row.Line, 0, "end", string.Empty, $"the state is {row.Word} and there is no end; allowed is a time"));
                    continue;
                }

                if (!busy.Add(row.Node))
                {
                    problems.Add(new(path, row.Line, 0, "node", row.Node, "runs another task that has no end; allowed is one a node, so end the one that is over"));
                    continue;
                }

                left -= row.Frames;
                running.Add(row);
                if (nodes.TryGetValue(row.Node, out int node))
                {
                    request.Running.Add(new RunningTask { Job = j, Node = node, Frames = row.Frames, ElapsedSeconds = Math.Max(0, now - row.StartSeconds) });
                }
            }

            job.Frames = Math.Max(0, left);
        }

        HashSet<string> known = [.. request.Jobs.Select(j => j.Label)];
        foreach (FarmLogRow row in rows.Where(r => r.EndSeconds is null && !known.Contains(r.Job)).Take(20))
        {
            problems.Add(new(path, row.Line, 0, "job", row.Job, "is running and is not in the file; allowed is the label of one of its jobs"));
        }

        return problems.Count == 0 ? running : throw new InputException([.. problems.Take(100)]);
    }

    // A node belongs to the class whose label begins its name, else to the first class; inside a class nodes are numbered by name.
    private static Dictionary<string, int> NodesOf(Farm farm, IReadOnlyList<FarmLogRow> rows, string path, List<InputProblem> problems)
    {
        Dictionary<string, int> places = [];
        int first = 0;
        string[] names = [.. rows.Where(r => r.EndSeconds is null).Select(r => r.Node).Distinct().Order(StringComparer.Ordinal)];
        for (int c = 0; c < farm.NodeClasses.Count; c++)
        {
            int used = 0;
            foreach (string name in names.Where(n => ClassOf(farm, n) == c))
            {
                if (used == farm.NodeClasses[c].Count)
                {
                    problems.Add(new(path, 0, 0, "node", name, $"runs a task, but class '{farm.NodeClasses[c].Label}' has only {farm.NodeClasses[c].Count} nodes in the file"));
                    break;
                }

                places.Add(name, first + used++);
            }

            first += farm.NodeClasses[c].Count;
        }

        return places;
    }

    private static int ClassOf(Farm farm, string node)
    {
        int best = 0;
        int length = 0;
        for (int c = 0; c < farm.NodeClasses.Count; c++)
        {
            string label = farm.NodeClasses[c].Label;
            if (label.Length > length && node.StartsWith(label, StringComparison.OrdinalIgnoreCase))
            {
                (best, length) = (c, label.Length);
            }
        }

        return best;
    }

    private static void Print(IAnsiConsole console, Answer a)
    {
        foreach (Night night in a.Nights)
        {
            Table table = new Table().Border(TableBorder.Simple).Title(Markup.Escape(night.Change)).AddColumns("job", "P50 from now", "P90 from now", "in time (95 % interval)", "later than as it stands");
            foreach (JobRow job in night.Jobs)
            {
                table.AddRow(
                    Markup.Escape(job.Job), FarmOptions.Hours(job.FinishP50Seconds), FarmOptions.Hours(job.FinishP90Seconds),
                    FarmOptions.Percent(job.OnTime) + (job.WillMiss ? " will miss" : string.Empty), job.LaterSeconds == 0 ? string.Empty : FarmOptions.Hours(job.LaterSeconds));
            }

            console.Write(table);
            console.WriteLine($"  at median times not before: total work {FarmOptions.Hours(night.WorkBoundSeconds)}, longest task {FarmOptions.Hours(night.LongestTaskBoundSeconds)}");
        }

        if (a.StuckTasks.Count > 0)
        {
            Table stuck = new Table().Border(TableBorder.Simple).Title("look stuck").AddColumns("job", "node", "has run", "should take", "chance");
            foreach (Stuck s in a.StuckTasks)
            {
                stuck.AddRow(Markup.Escape(s.Job), Markup.Escape(s.Node), FarmOptions.Hours(s.ElapsedSeconds), FarmOptions.Hours(s.ExpectedSeconds), s.Chance < 0.001 ? "<0.1 %" : string.Create(CultureInfo.InvariantCulture, $"{100 * s.Chance:0.0} %"));
            }

            console.Write(stuck);
        }

        FarmOptions.Print(console, a.Notes);

        console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"From {a.Now}; {a.Replications:N0} replications, seed {a.Seed}; a stuck task is taken to be started again when somebody looks."));
    }
}
