using System.CommandLine;
using System.Text.RegularExpressions;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary>Options that describe the stations of an offload.</summary>
internal static partial class MeansOptions
{
    private static readonly Option<int> Stations = new Option<int>("--stations") { Description = "Stations side by side.", DefaultValueFactory = _ => 1, HelpName = "N" }.Fills("means.stations");
    private static readonly Option<string?> Reader = Given.Needed("--reader", "What a card is read at, such as 800 MB/s.", "RATE").Fills("means.reader_bytes_per_second");
    private static readonly Option<string[]> To = new Option<string[]>("--to")
    {
        Description = "A destination: '450 MB/s', or '150 MB/s, 150 GB at 450 MB/s, reads 200 MB/s, cascaded'. May stand several times.",
        HelpName = "DESTINATION",
        Required = true,
    }.Fills("means.destinations");

    private static readonly Option<string?> Verify = new("--verify")
    {
        Description = "none, sizes, destinations, source-and-destinations or camera-hashes.",
        DefaultValueFactory = _ => "destinations",
    };

    private static readonly Option<string?> Hash = Given.Text("--hash", "What one thread hashes, such as 600 MB/s; no limit without it.", "RATE").Fills("means.hash_bytes_per_second");
    private static readonly Option<int> Threads = new Option<int>("--hash-threads") { Description = "Files hashed at once.", HelpName = "N" }.Fills("means.hash_threads");
    private static readonly Option<string?> Bus = Given.Text("--bus", "A bus that all reads and writes share, such as 2 GB/s.", "RATE").Fills("means.bus_bytes_per_second");
    private static readonly Option<string?> PerFile = Given.Text("--per-file", "Time for each file on top of its bytes, such as 20 ms.", "TIME").Fills("means.seconds_per_file");
    private static readonly Option<string?> Look = Given.Text("--look", "Time that a person looks at each card's pictures, such as 10 min.", "TIME").Fills("means.look_seconds");
    private static readonly Option<string?> Carry = Given.Text("--carry", "Time from camera to station and again back, such as 15 min.", "TIME").Fills("means.transit_seconds", "means.return_seconds");
    private static readonly Option<int> Nights = new Option<int>("--hold-nights") { Description = "Nights that cards are held.", HelpName = "N" }.Fills("means.hold_nights");
    private static readonly Option<int> Spares = new Option<int>("--spares") { Description = "Spare cards a camera.", DefaultValueFactory = _ => 1, HelpName = "N" }.Fills("means.spare_cards");

    public static IEnumerable<Option> All
    {
        get
        {
            Verify.AcceptOnlyFromAmong("none", "sizes", "destinations", "source-and-destinations", "camera-hashes");
            return [Stations, Reader, To, Verify, Hash, Threads, Bus, PerFile, Look, Carry, Nights, Spares];
        }
    }

    public static OffloadMeans Read(Session session)
    {
        OffloadMeans means = new()
        {
            Stations = session.Line.GetValue(Stations),
            ReaderBytesPerSecond = session.BytesPerSecondOrZero(Reader),
            Verify = session.Line.GetValue(Verify) switch
            {
                "none" => VerifyLevel.None,
                "sizes" => VerifyLevel.Sizes,
                "source-and-destinations" => VerifyLevel.SourceAndDestinations,
                "camera-hashes" => VerifyLevel.CameraHashes,
                _ => VerifyLevel.Destinations,
            },
            HashBytesPerSecond = session.BytesPerSecondOrZero(Hash),
            HashThreads = session.Line.GetValue(Threads),
            BusBytesPerSecond = session.BytesPerSecondOrZero(Bus),
            SecondsPerFile = session.Seconds(PerFile),
            LookSeconds = session.Seconds(Look),
            TransitSeconds = session.Seconds(Carry),
            ReturnSeconds = session.Seconds(Carry),
            HoldNights = session.Line.GetValue(Nights),
            SpareCards = session.Line.GetValue(Spares),
        };
        means.Destinations.AddRange(session.Line.GetValue(To)!.Select((text, i) => Destination(text, i)));
        return means;
    }

    private static Destination Destination(string text, int index)
    {
        string[] parts = [.. text.Split(',').Select(p => p.Trim())];
        Destination destination = new() { Label = $"destination {index + 1}", SustainedBytesPerSecond = Given.Rate("--to", parts[0]).ToDouble() };
        foreach (string part in parts.Skip(1))
        {
            if (part == "cascaded")
            {
                destination.Cascaded = true;
            }
            else if (part.StartsWith("reads ", StringComparison.Ordinal))
            {
                destination.ReadBytesPerSecond = Given.Rate("--to", part[6..]).ToDouble();
            }
            else if (FastPart().Match(part) is { Success: true } fast)
            {
                destination.FastBytes = Given.Size("--to", fast.Groups[1].Value);
                destination.FastBytesPerSecond = Given.Rate("--to", fast.Groups[2].Value).ToDouble();
            }
            else
            {
                throw Given.Refused("--to", text, $"'{part}' is not understood; allowed after the rate are '150 GB at 450 MB/s', 'reads 200 MB/s' and 'cascaded'");
            }
        }

        return destination;
    }

    [GeneratedRegex("^(.+) at (.+)$")]
    private static partial Regex FastPart();
}
