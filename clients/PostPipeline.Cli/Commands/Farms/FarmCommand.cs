using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Farms;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary><c>farm</c>: simulates a farm and its jobs.</summary>
internal static class FarmCommand
{
    private static readonly Option<long[]> Segments = new("--segments")
    {
        Description = "Compare segment lengths in frames instead; without numbers a usual spread.",
        AllowMultipleArgumentsPerToken = true,
        Arity = ArgumentArity.ZeroOrMore,
        HelpName = "FRAMES",
    };

    private sealed record Answer(
        double FinishP10Seconds, double FinishP50Seconds, double FinishP90Seconds, Interval FinishP50Interval, Interval FinishP90Interval, Likelihood? OnTime,
        double WorkBoundSeconds, double LongestTaskBoundSeconds, double LicenceBoundSeconds, double StorageBoundSeconds,
        double NodeHours, double WastedNodeHours, double Failures, double TasksSetAside, long Tasks, long Seed, int Replications, IReadOnlyList<JobRow> Jobs, IReadOnlyList<string> Notes);

    private sealed record JobRow(string Job, double FinishP10Seconds, double FinishP50Seconds, double FinishP90Seconds);

    private sealed record LengthRow(long SegmentFrames, double OverheadShare, double TasksPerNode, double FinishP50Seconds, double FinishP90Seconds, double BoundSeconds);

    private sealed record Advice(long BestSegmentFrames, IReadOnlyList<LengthRow> Lengths, IReadOnlyList<string> Notes);

    public static Command Create() => new Command("farm", "Simulate a farm and its jobs: when they end, how sure, and what no schedule could beat.")
    {
        FarmOptions.File, FarmOptions.Due, FarmOptions.Seed, FarmOptions.Replications, Segments,
    }.Runs(RunAsync);

    private static async Task<int> RunAsync(Session session)
    {
        SimulateFarmRequest request = FarmFile.ReadFile<SimulateFarmRequest>(session.Line.GetValue(FarmOptions.File)!);
        request.Seed = session.SeedOf(request.Seed);
        request.Replications = session.ReplicationsOf(request.Replications);
        if (session.TimeOf(FarmOptions.Due) is double due)
        {
            request.DueSeconds = due;
        }

        FarmService.FarmServiceClient farm = (await session.ClientsAsync().ConfigureAwait(false)).Farm;
        if (session.Line.GetResult(Segments) is { Implicit: false })
        {
            return await AdviseAsync(session, farm, request).ConfigureAwait(false);
        }

        FarmResult result = await session.ProgressAsync("simulating the farm", progress => FarmOptions.LastAsync(
            farm.SimulateFarm(request, cancellationToken: session.Cancellation), p => p.Progress, p => p.Result, progress, session.Cancellation)).ConfigureAwait(false);
        Answer answer = new(
            result.FinishP10Seconds, result.FinishP50Seconds, result.FinishP90Seconds, result.FinishP50Interval, result.FinishP90Interval, result.OnTime,
            result.WorkBoundSeconds, result.LongestTaskBoundSeconds, result.LicenceBoundSeconds, result.StorageBoundSeconds,
            result.NodeSeconds / 3600, result.WastedNodeSeconds / 3600, result.Failures, result.TasksSetAside, result.Tasks, result.Seed, result.Replications,
            [.. result.Jobs.Select(j => new JobRow(j.Label, j.FinishP10Seconds, j.FinishP50Seconds, j.FinishP90Seconds))],
            [.. result.Notes]);
        return session.Answer("postpipeline.farm/1", answer, console => Print(console, answer));
    }

    private static void Print(IAnsiConsole console, Answer a)
    {
        Table jobs = new Table().Border(TableBorder.Simple).AddColumns("job", "P10", "P50", "P90");
        foreach (JobRow job in a.Jobs)
        {
            jobs.AddRow(Markup.Escape(job.Job), FarmOptions.Hours(job.FinishP10Seconds), FarmOptions.Hours(job.FinishP50Seconds), FarmOptions.Hours(job.FinishP90Seconds));
        }

        jobs.AddRow("all", FarmOptions.Hours(a.FinishP10Seconds), FarmOptions.Hours(a.FinishP50Seconds), FarmOptions.Hours(a.FinishP90Seconds));
        console.Write(jobs);
        Table facts = new Table().Border(TableBorder.Simple).AddColumns("what", "value");
        if (a.OnTime is not null)
        {
            facts.AddRow("done in time, if nothing outside this list happens", FarmOptions.Percent(a.OnTime));
        }

        facts.AddRow("P90, 95 % interval", $"{FarmOptions.Hours(a.FinishP90Interval.Low)} to {FarmOptions.Hours(a.FinishP90Interval.High)}")
            .AddRow("no earlier than: work ÷ nodes", FarmOptions.Hours(a.WorkBoundSeconds))
            .AddRow("no earlier than: longest task", FarmOptions.Hours(a.LongestTaskBoundSeconds));
        if (a.LicenceBoundSeconds > 0)
        {
            facts.AddRow("no earlier than: licences", FarmOptions.Hours(a.LicenceBoundSeconds));
        }

        if (a.StorageBoundSeconds > 0)
        {
            facts.AddRow("no earlier than: storage", FarmOptions.Hours(a.StorageBoundSeconds));
        }

        facts.AddRow("node-hours, mean", $"{Numbers.Three(a.NodeHours)}, of which {Numbers.Three(a.WastedNodeHours)} came to nothing")
            .AddRow("failed attempts, mean", Numbers.Three(a.Failures))
            .AddRow("tasks", string.Create(CultureInfo.InvariantCulture, $"{a.Tasks:N0}, {Numbers.Three(a.TasksSetAside)} set aside until someone looks"))
            .AddRow("replications, seed", string.Create(CultureInfo.InvariantCulture, $"{a.Replications:N0}, {a.Seed}"));
        console.Write(facts);
        FarmOptions.Print(console, a.Notes);
    }

    private static async Task<int> AdviseAsync(Session session, FarmService.FarmServiceClient farm, SimulateFarmRequest request)
    {
        AdviseSegmentsRequest ask = new() { Seed = request.Seed, Replications = request.Replications, Farm = request.Farm };
        ask.Jobs.AddRange(request.Jobs);
        ask.SegmentFrames.AddRange(session.Line.GetValue(Segments) ?? []);
        AdviseSegmentsResponse response = await session.ProgressAsync("comparing segment lengths", progress => FarmOptions.LastAsync(
            farm.StreamSegmentAdvice(new() { Question = ask }, cancellationToken: session.Cancellation), p => p.Progress, p => p.Result, progress, session.Cancellation)).ConfigureAwait(false);
        Advice advice = new(response.BestSegmentFrames, [.. response.Lengths.Select(l => new LengthRow(l.SegmentFrames, l.OverheadShare, l.TasksPerNode, l.FinishP50Seconds, l.FinishP90Seconds, l.BoundSeconds))], [.. response.Notes]);
        return session.Answer("postpipeline.segments/1", advice, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("frames a segment", "overhead", "tasks a node", "P50", "P90", "no earlier than", string.Empty);
            foreach (LengthRow l in advice.Lengths)
            {
                table.AddRow(
                    l.SegmentFrames.ToString("N0", CultureInfo.InvariantCulture), string.Create(CultureInfo.InvariantCulture, $"{100 * l.OverheadShare:0.0} %"), Numbers.Three(l.TasksPerNode),
                    FarmOptions.Hours(l.FinishP50Seconds), FarmOptions.Hours(l.FinishP90Seconds), FarmOptions.Hours(l.BoundSeconds), l.SegmentFrames == advice.BestSegmentFrames ? "best" : string.Empty);
            }

            console.Write(table);
            FarmOptions.Print(console, advice.Notes);
        });
    }
}
