using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>offload cards</c>: cards in rotation by the short form.</summary>
internal static class CardsVerb
{
    private static readonly Option<int> Cameras = new Option<int>("--cameras") { Description = "Cameras that share the stations.", DefaultValueFactory = _ => 1, HelpName = "N" }.Fills("cameras");
    private static readonly Option<int> Stations = new Option<int>("--stations") { Description = "Stations.", DefaultValueFactory = _ => 1, HelpName = "N" }.Fills("stations");
    private static readonly Option<string?> CardLasts = Given.Needed("--card-lasts", "Recorded time of a card, such as 77.2 min.", "TIME").Fills("card_seconds");
    private static readonly Option<string?> Duty = Given.Text("--duty", "Recorded part of the time in the busiest two hours; 1 without it.", "PART").Fills("duty");
    private static readonly Option<string?> AtStation = Given.Needed("--at-station", "Time that a card holds a station, such as 68.3 min.", "TIME").Fills("station_seconds");
    private static readonly Option<string?> Otherwise = Given.Text("--otherwise", "Time of the loop that holds none: carrying, looking, queueing.", "TIME").Fills("other_seconds");
    private static readonly Option<int> Spares = new Option<int>("--spares") { Description = "Spare cards a camera.", DefaultValueFactory = _ => 1, HelpName = "N" }.Fills("spare_cards");

    private sealed record Count(double StationLoad, bool NeverCatchesUp, int CardsPerCamera, Reason? Derivation);

    public static Command Create() => new Command("cards", "Count cards a camera by the short form, where cards return the same day.")
    {
        Cameras, Stations, CardLasts, Duty, AtStation, Otherwise, Spares, Given.Explain,
    }.Runs(async session =>
    {
        CardLoop loop = new()
        {
            Cameras = session.Line.GetValue(Cameras),
            Stations = session.Line.GetValue(Stations),
            CardSeconds = session.Seconds(CardLasts),
            Duty = session.Fraction(Duty) is { } duty ? duty.ToDouble() : 1,
            StationSeconds = session.Seconds(AtStation),
            OtherSeconds = session.Seconds(Otherwise),
            SpareCards = session.Line.GetValue(Spares),
        };
        OffloadService.OffloadServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Offload;
        CardCountResult answer = (await client.CountCardsAsync(new() { Items = { loop }, Explain = session.Line.GetValue(Given.Explain) }, cancellationToken: session.Cancellation)).Results[0];
        Given.Refuse(answer.Error);
        Count count = new(answer.Count.StationLoad, answer.Count.NeverCatchesUp, answer.Count.CardsPerCamera, Reason.From(answer.Count.Derivation));
        return session.Answer(
            "postpipeline.offload.cards/1",
            count,
            console =>
            {
                console.WriteLine(count.NeverCatchesUp
                ? $"Station load {Numbers.Three(count.StationLoad * 100)} %: never catches up, and no number of cards helps. Fewer cameras, faster links or another station do."
                : $"{count.CardsPerCamera} cards a camera, spares included; station load {Numbers.Three(count.StationLoad * 100)} %.");
                count.Derivation?.Print(console);
            },
            count.NeverCatchesUp ? ExitCode.No : ExitCode.Done);
    });
}
