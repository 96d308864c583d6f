using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary>Options that describe a recording mode.</summary>
internal static class ModeOptions
{
    public static Option<string[]> Codings { get; } = new Option<string[]>("--coding")
    {
        Description = "A coding by name (see 'footage codings'), or with numbers: raw:12 or raw:12:3 (bits, ratio), bpp:3.5 or bpp:3.5:5 (bits a pixel, peak), rate:100 Mb/s, frame:4423680 (bytes). May stand several times.",
        HelpName = "CODING",
        Required = true,
    }.Fills("coding");

    public static Option<string?> OwnCodings { get; } = Given.Text("--own-codings", "Your own file of codings (comma-separated, the columns of docs/codings.md); they come before ours.", "FILE").Fills("own_codings");

    public static Option<string?> Raster { get; } = Given.Needed("--raster", "Width x height in pixels, or photosites for raw.", "WxH").Fills("raster");

    public static Option<string?> SensorRate { get; } = Given.Needed("--sensor-rate", "Frames recorded a second, exact: 24, 24000/1001.", "RATE").Fills("sensor_rate");

    public static Option<string?> ProjectRate { get; } = Given.Text("--project-rate", "Frames played back a second; the sensor rate without it.", "RATE").Fills("project_rate");

    public static Option<int> AudioChannels { get; } = new Option<int>("--audio") { Description = "Channels of sound, 24 bits at 48 kHz.", HelpName = "N" }.Fills("audio");

    /// <summary>The modes given, one for each coding.</summary>
    public static IEnumerable<RateItem> Items(Session session) => (session.Line.GetValue(Codings) ?? []).Select(text => new RateItem
    {
        Label = text,
        Coding = Read(text),
        Raster = session.Pixels(Raster),
        SensorRate = session.Frames(SensorRate),
        ProjectRate = session.Frames(ProjectRate) ?? session.Frames(SensorRate),
        Audio = session.Line.GetValue(AudioChannels) is not 0 and { } channels ? new() { Channels = channels, BitsPerSample = 24, SampleRateHertz = 48_000 } : null,
    });

    /// <summary>A mode of a file's row.</summary>
    public static RateItem Item(string coding, string raster, string sensorRate, string projectRate, int audioChannels) => new()
    {
        Label = coding,
        Coding = Read(coding),
        Raster = Given.Pixels("raster", raster),
        SensorRate = Given.Frames("sensor_rate", sensorRate),
        ProjectRate = Given.Frames("project_rate", projectRate.Length > 0 ? projectRate : sensorRate),
        Audio = audioChannels > 0 ? new() { Channels = audioChannels, BitsPerSample = 24, SampleRateHertz = 48_000 } : null,
    };

    private static Coding Read(string text)
    {
        string[] parts = text.Split(':');
        return (parts[0], parts.Length) switch
        {
            ("raw", 2 or 3) => new() { Raw = new() { BitDepth = Whole(text, parts[1]), CompressionRatio = parts.Length == 3 ? Given.Fraction("--coding", parts[2]) : null } },
            ("bpp", 2 or 3) => new() { BitsPerPixel = new() { Average = Given.Fraction("--coding", parts[1]), Peak = parts.Length == 3 ? Given.Fraction("--coding", parts[2]) : null } },
            ("rate", 2) => new() { BitRate = new() { AverageBitsPerSecond = (long)(Given.Rate("--coding", parts[1]).ToDouble() * 8) } },
            ("frame", 2) => new() { FixedFrame = new() { BytesPerFrame = long.TryParse(parts[1], out long bytes) ? bytes : throw Given.Refused("--coding", text, "allowed is frame: and a whole number of bytes") } },
            _ => new() { CatalogueName = text },
        };
    }

    private static int Whole(string text, string part) =>
        int.TryParse(part, out int value) ? value : throw Given.Refused("--coding", text, "allowed is raw: and a whole number of bits");
}
