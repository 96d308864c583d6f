using System.CommandLine;
using Google.Protobuf;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode ltc</c>: labels to 80-bit linear-timecode words, and words to labels.</summary>
internal static class LtcVerb
{
    private const int WordBytes = 10;

    private static readonly Option<bool> Words = new("--words")
    {
        Description = "The arguments are words of twenty hexadecimal digits, first bit in the least significant place of the first byte.",
    };

    private sealed record Row(string? Label, string Word, int FramesPerWord, string? Problem);

    public static Command Create() =>
        new Command("ltc", "Write labels as 80-bit linear-timecode words, or read such words.")
        {
            LabelInput.Labels, Words, FormatOptions.Rate, FormatOptions.Drop, LabelInput.FromFile,
        }.Runs(async session =>
        {
            LabelFormat format = FormatOptions.Format(session);
            IReadOnlyList<string> items = await LabelInput.ReadAsync(session, LabelInput.Labels).ConfigureAwait(false);
            TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
            List<Row> rows = [];
            foreach (string[] some in items.Chunk(LabelRows.MostRows))
            {
                rows.AddRange(session.Line.GetValue(Words)
                    ? await ReadAsync(session, client, format, some).ConfigureAwait(false)
                    : await WriteAsync(session, client, format, some).ConfigureAwait(false));
            }

            int exitCode = rows.Exists(row => row.Problem is not null) ? ExitCode.BadInput : ExitCode.Done;
            return session.Answer(
                "postpipeline.timecode.ltc/1",
                rows,
                console =>
                {
                    Table table = new Table().Border(TableBorder.Simple).AddColumns("label", "word", "frames a word", "problem");
                    rows.ForEach(row => table.AddRow(Markup.Escape(row.Label ?? string.Empty), Markup.Escape(row.Word), $"{row.FramesPerWord}", Markup.Escape(row.Problem ?? string.Empty)));
                    console.Write(table);
                },
                exitCode);
        });

    private static async Task<IEnumerable<Row>> WriteAsync(Session session, TimecodeService.TimecodeServiceClient client, LabelFormat format, string[] labels)
    {
        IReadOnlyList<LabelReading> readings = await client.FramesOfAsync(format, labels, cancellation: session.Cancellation).ConfigureAwait(false);
        InputProblem[] problems = [.. readings.Where(reading => reading.Problem is not null).Select(reading => InputProblem.Of("labels", reading.Label, reading.Problem!))];
        if (problems.Length > 0)
        {
            throw new InputException(problems);
        }

        EncodeLtcWordsResponse words = await client.EncodeLtcWordsAsync(new() { Format = format, FrameIndices = { readings.Select(reading => reading.Frame!.Value) } }, cancellationToken: session.Cancellation);
        return labels.Select((label, i) => new Row(label, Convert.ToHexStringLower(words.Words.Span.Slice(WordBytes * i, WordBytes)), words.FramesPerWord, null));
    }

    private static async Task<IEnumerable<Row>> ReadAsync(Session session, TimecodeService.TimecodeServiceClient client, LabelFormat format, string[] words)
    {
        byte[] bytes = [.. words.SelectMany(Bytes)];
        DecodeLtcWordsResponse read = await client.DecodeLtcWordsAsync(new() { Format = format, Words = ByteString.CopyFrom(bytes) }, cancellationToken: session.Cancellation);
        IReadOnlyList<string> texts = await client.LabelsOfAsync(format, read.FrameIndices, cancellation: session.Cancellation).ConfigureAwait(false);
        FormatOutcome described = (await client.DescribeFormatsAsync(new() { Formats = { format } }, cancellationToken: session.Cancellation)).Outcomes[0];
        Dictionary<int, string> problems = read.Errors.ToDictionary(error => error.Index, error => error.Description);
        return words.Select((word, i) => problems.TryGetValue(i, out string? problem)
            ? new Row(null, word, described.Description.FramesPerLtcWord, problem)
            : new(texts[i], word, described.Description.FramesPerLtcWord, null));
    }

    private static byte[] Bytes(string word)
    {
        if (word.Length == 2 * WordBytes && word.All(char.IsAsciiHexDigit))
        {
            return Convert.FromHexString(word);
        }

        throw new InputException(InputProblem.Of("labels", word, "is no word; write twenty hexadecimal digits"));
    }
}
