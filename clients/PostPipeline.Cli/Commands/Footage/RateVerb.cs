using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>footage rate</c>: bytes a frame and a second.</summary>
internal static class RateVerb
{
    private sealed record Row(
        string Coding, long BytesPerFrame, long LowBytesPerFrame, long PeakBytesPerFrame, string Certainty, double BitsPerPixel, double CompressionRatio, string RatioBase,
        string PictureBytesPerSecond, string PeakBytesPerSecond, long AudioBytesPerSecond, long BytesPerHour, string SlowFactor, string Source, Reason? Derivation);

    public static Command Create() => new Command("rate", "Say bytes a frame and a second of a mode, exact where a standard fixes them, a range where none does.")
    {
        ModeOptions.Codings, ModeOptions.Raster, ModeOptions.SensorRate, ModeOptions.ProjectRate, ModeOptions.AudioChannels, ModeOptions.OwnCodings, Given.Explain,
    }.Runs(async session =>
    {
        EstimateRatesRequest request = new() { Explain = session.Line.GetValue(Given.Explain), OwnCodings = await session.OwnCodingsAsync(ModeOptions.OwnCodings).ConfigureAwait(false) };
        request.Items.AddRange(ModeOptions.Items(session));
        FootageService.FootageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Footage;
        EstimateRatesResponse response = await client.EstimateRatesAsync(request, cancellationToken: session.Cancellation);
        List<Row> rows = [];
        foreach (RateResult result in response.Results)
        {
            Given.Refuse(result.Error, result.Label);
            RateEstimate e = result.Estimate;
            rows.Add(new(
                result.Label, e.BytesPerFrame, e.LowBytesPerFrame, e.PeakBytesPerFrame, e.Certainty.ToString().ToLowerInvariant(), e.BitsPerPixel, e.CompressionRatio, e.RatioBase,
                Text(e.PictureBytesPerSecond), Text(e.PeakBytesPerSecond), e.AudioBytesPerSecond.Numerator, e.BytesPerHour, Text(e.SlowFactor), e.Source, Reason.From(e.Derivation)));
        }

        return session.Answer("postpipeline.footage.rate/1", rows, console => Print(console, rows));
    });

    public static string Text(Contracts.Types.V1.Rational value) => value.Denominator == 1 ? $"{value.Numerator}" : $"{value.Numerator}/{value.Denominator}";

    private static void Print(IAnsiConsole console, List<Row> rows)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns("coding", "bytes a frame", "known", "bits a pixel", "ratio and its base", "average", "peak", "an hour");
        foreach (Row row in rows)
        {
            string range = row.LowBytesPerFrame == row.PeakBytesPerFrame ? $"{row.BytesPerFrame}" : $"{row.BytesPerFrame} ({row.LowBytesPerFrame} to {row.PeakBytesPerFrame})";
            table.AddRow(
                Markup.Escape(row.Coding), range, row.Certainty, Numbers.Three(row.BitsPerPixel), row.CompressionRatio == 0 ? "no stated base" : $"{Numbers.Three(row.CompressionRatio)}:1 of {row.RatioBase}",
                Numbers.Rate(Value(row.PictureBytesPerSecond) + row.AudioBytesPerSecond), Numbers.Rate(Value(row.PeakBytesPerSecond) + row.AudioBytesPerSecond), Numbers.Size(row.BytesPerHour));
        }

        console.Write(table);
        foreach (Row row in rows)
        {
            console.WriteLine($"{row.Coding}: {row.Source}");
            row.Derivation?.Print(console);
        }
    }

    private static double Value(string fraction) => Given.Fraction(string.Empty, fraction).ToDouble();
}
