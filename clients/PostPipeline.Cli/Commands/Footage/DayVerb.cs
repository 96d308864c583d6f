using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>offload day</c>: a day's takes run through the stations, card by card.</summary>
internal static class DayVerb
{
    private static readonly Argument<string> Takes = new("takes")
    {
        Description = "Comma-separated takes: camera,start,end,bytes[,files][,day]. Times are 14:30:05 or seconds after midnight, bytes plain or as 120 GB.",
    };

    private static readonly Option<string?> Card = Given.Needed("--card", "Bytes of a card that are used, such as 512 GB.", "SIZE").Fills("card_bytes");
    private static readonly Option<string?> Wrap = Given.Needed("--wrap", "When recording ends, in time after midnight, such as 18.5 h.", "TIME").Fills("wrap_seconds");
    private static readonly Option<string?> Courier = Given.Text("--courier", "When the courier leaves, in time after midnight.", "TIME").Fills("courier_seconds");
    private static readonly Option<string?> NextCall = Given.Text("--next-call", "When the next call is, in time after the day's midnight, such as 31 h.", "TIME").Fills("next_call_seconds");
    private static readonly Option<string[]> Pulls = new Option<string[]>("--pull") { Description = "When part-full cards are pulled, in time after midnight (lunch); may stand several times.", HelpName = "TIME" }.Fills("pull_seconds");

    private sealed record Run(string Camera, long Bytes, double PulledSeconds, double StartedSeconds, double CopiedSeconds, double DoneSeconds, int Station);

    private sealed record Rotation(string Camera, int MostAtOnce, int WithSpares);

    private sealed record Day(
        int Number, long Bytes, int Cards, double EndSeconds, double AfterWrapSeconds, double StationLoad, bool NeverCatchesUp, double LongestWaitSeconds, string BindingLink, string NextLink,
        double? BeforeCourierSeconds, double? RestToSpareSeconds, IReadOnlyList<Rotation> Rotation, IReadOnlyList<Run> Runs, Reason? Derivation);

    public static Command Create()
    {
        Command command = new("day", "Run a day's takes through the stations card by card: end of day, waits, cards in rotation.") { Takes, Card, Wrap, Courier, NextCall, Pulls, Given.Explain };
        foreach (Option option in MeansOptions.All)
        {
            command.Options.Add(option);
        }

        return command.Runs(RunAsync);
    }

    private static async Task<int> RunAsync(Session session)
    {
        SimulateDaysRequest request = new() { Means = MeansOptions.Read(session), Explain = session.Line.GetValue(Given.Explain), Consecutive = true };
        SheetFile sheet = await SheetFile.ReadAsync(
            session.Line.GetValue(Takes)!, ["camera", "start", "end", "bytes"], ["camera", "start", "end", "bytes", "files", "day"], session.Cancellation).ConfigureAwait(false);
        Dictionary<RecordedTake, int> lines = new(ReferenceEqualityComparer.Instance);
        List<(int Day, string Camera, RecordedTake Take)> takes = [];
        foreach (int line in sheet.Rows())
        {
            RecordedTake take = new() { StartSeconds = sheet.Clock("start"), EndSeconds = sheet.Clock("end"), Bytes = sheet.Size("bytes"), Files = sheet.Count("files", 1) };
            sheet.Require(take.EndSeconds >= take.StartSeconds, "end", $"allowed is {sheet.Text("start")} or later; after midnight hours go on: 25:10");
            lines.Add(take, line);
            takes.Add((sheet.Count("day", 1), sheet.Text("camera"), take));
        }

        sheet.ThrowIfAny();
        double[] pulls = [.. (session.Line.GetValue(Pulls) ?? []).Select(Pull)];
        foreach (IGrouping<int, (int Day, string Camera, RecordedTake Take)> day in takes.GroupBy(t => t.Day).OrderBy(g => g.Key))
        {
            request.Days.Add(ToDay(session, day, pulls));
        }

        OffloadService.OffloadServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Offload;
        SimulateDaysResponse response = await client.SimulateDaysAsync(request, cancellationToken: session.Cancellation);
        List<Day> days = [];
        foreach ((DayResult result, OffloadDay asked) in response.Results.Zip(request.Days))
        {
            if (result.Error is { } error && ItemPlace.In("cameras", error.Field) is { } camera && ItemPlace.In("takes", camera.Rest) is { } take)
            {
                throw new InputException(sheet.Refused(lines[asked.Cameras[camera.Index].Takes[take.Index]], take.Rest, error.Description));
            }

            Given.Refuse(result.Error);
            days.Add(ToRow(asked.Day, result.Offload));
        }

        bool late = days.Any(d => d.NeverCatchesUp || d.BeforeCourierSeconds < 0 || d.RestToSpareSeconds < 0);
        return session.Answer("postpipeline.offload.day/1", days, console => days.ForEach(d => Print(console, d)), late ? ExitCode.No : ExitCode.Done);
    }

    private static double Pull(string text) =>
        Quantities.QuantityText.TryParseTime(text, out Quantities.Rational seconds, out string problem) ? seconds.ToDouble() : throw Given.Refused("--pull", text, problem);

    private static OffloadDay ToDay(Session session, IGrouping<int, (int Day, string Camera, RecordedTake Take)> takes, double[] pulls)
    {
        OffloadDay day = new() { Label = $"day {takes.Key}", Day = takes.Key, WrapSeconds = session.Seconds(Wrap) };
        if (session.Line.GetValue(Courier) is not null)
        {
            day.CourierSeconds = session.Seconds(Courier);
        }

        if (session.Line.GetValue(NextCall) is not null)
        {
            day.NextCallSeconds = session.Seconds(NextCall);
        }

        foreach (IGrouping<string, (int Day, string Camera, RecordedTake Take)> camera in takes.GroupBy(t => t.Camera))
        {
            CameraDay row = new() { Camera = camera.Key, CardBytes = session.Bytes(Card) };
            row.Takes.AddRange(camera.Select(t => t.Take).OrderBy(t => t.StartSeconds));
            row.PullSeconds.AddRange(pulls);
            day.Cameras.Add(row);
        }

        return day;
    }

    private static Day ToRow(int number, DayOffload d) => new(
        number, d.Bytes, d.Cards, d.EndSeconds, d.AfterWrapSeconds, d.StationLoad, d.NeverCatchesUp, d.LongestWaitSeconds, d.BindingLink, d.NextLink,
        d.HasBeforeCourierSeconds ? d.BeforeCourierSeconds : null, d.HasRestToSpareSeconds ? d.RestToSpareSeconds : null,
        [.. d.Rotation.Select(r => new Rotation(r.Camera, r.MostAtOnce, r.WithSpares))],
        [.. d.Runs.Select(r => new Run(r.Camera, r.Bytes, r.PulledSeconds, r.StartedSeconds, r.CopiedSeconds, r.DoneSeconds, r.Station))],
        Reason.From(d.Derivation));

    private static void Print(IAnsiConsole console, Day day)
    {
        console.WriteLine($"Day {day.Number}: {Numbers.Size(day.Bytes)} on {day.Cards} cards; done at {Numbers.Clock(day.EndSeconds)}, {Numbers.Duration(day.AfterWrapSeconds)} after wrap.");
        console.WriteLine($"Station load {Numbers.Three(day.StationLoad * 100)} %{(day.NeverCatchesUp ? ": never catches up at this rate" : day.StationLoad > 0.7 ? ": queues late" : string.Empty)}; longest wait {Numbers.Duration(day.LongestWaitSeconds)}; slowest link {day.BindingLink}, then {day.NextLink}.");
        if (day.BeforeCourierSeconds is { } courier)
        {
            console.WriteLine(courier < 0 ? $"The courier is missed by {Numbers.Duration(-courier)}." : $"{Numbers.Duration(courier)} before the courier.");
        }

        if (day.RestToSpareSeconds is { } rest)
        {
            console.WriteLine((rest < 0 ? $"The least rest is broken by {Numbers.Duration(-rest)}." : $"{Numbers.Duration(rest)} of rest to spare.") + " Local rules on rest and night work win.");
        }

        Table table = new Table().Border(TableBorder.Simple).AddColumns("camera", "card", "pulled", "station", "starts", "copied", "done");
        foreach (Run run in day.Runs)
        {
            table.AddRow(Markup.Escape(run.Camera), Numbers.Size(run.Bytes), Numbers.Clock(run.PulledSeconds), $"{run.Station}", Numbers.Clock(run.StartedSeconds), Numbers.Clock(run.CopiedSeconds), Numbers.Clock(run.DoneSeconds));
        }

        console.Write(table);
        console.WriteLine("Cards in rotation: " + string.Join(", ", day.Rotation.Select(r => $"{r.Camera} {r.MostAtOnce} at once, {r.WithSpares} with spares")) + ".");
        console.WriteLine("No card is said to be safe to clear: see 'offload release' for the facts; a named person decides.");
        day.Derivation?.Print(console);
    }
}
