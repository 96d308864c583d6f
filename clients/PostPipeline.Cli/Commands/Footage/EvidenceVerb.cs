using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>offload release</c> and <c>storage purge</c>: facts before a named person clears or deletes.</summary>
internal static class EvidenceVerb
{
    private sealed record Fact(string Text, string State);

    private sealed record Sheet(string Subject, int Absent, int Unknown, string Foot, IReadOnlyList<Fact> Facts, Reason? Derivation);

    public static Command Release() => Create(
        "release", "Show facts before a named person clears a card: present, absent or unknown.", "The card.",
        static async (clients, item, explain, cancellation) => (await clients.Offload.ReviewReleaseAsync(new() { Items = { item }, Explain = explain }, cancellationToken: cancellation)).Results[0]);

    public static Command Purge() => Create(
        "purge", "Show facts before a named person deletes a generation: present, absent or unknown.", "The generation.",
        static async (clients, item, explain, cancellation) => (await clients.Storage.ReviewPurgeAsync(new() { Items = { item }, Explain = explain }, cancellationToken: cancellation)).Results[0]);

    private static Command Create(string name, string description, string subject, Func<SuiteClients, EvidenceItem, bool, CancellationToken, Task<EvidenceResult>> ask)
    {
        Argument<string> label = new("subject") { Description = subject };
        Option<int[]> present = new("--present") { Description = "Facts that are present, by their numbers on the sheet.", HelpName = "N", AllowMultipleArgumentsPerToken = true };
        Option<int[]> absent = new("--absent") { Description = "Facts that are absent, by their numbers.", HelpName = "N", AllowMultipleArgumentsPerToken = true };
        return new Command(name, description) { label, present, absent, Given.Explain }.Runs(async session =>
        {
            SuiteClients clients = await session.ClientsAsync().ConfigureAwait(false);
            EvidenceItem item = new() { Label = session.Line.GetValue(label)! };
            bool explain = session.Line.GetValue(Given.Explain);
            EvidenceResult blank = await ask(clients, item, explain, session.Cancellation).ConfigureAwait(false);
            Given.Refuse(blank.Error);
            Add(item, blank.Sheet, "--present", session.Line.GetValue(present), EvidenceState.Present);
            Add(item, blank.Sheet, "--absent", session.Line.GetValue(absent), EvidenceState.Absent);
            EvidenceResult answer = item.Facts.Count == 0 ? blank : await ask(clients, item, explain, session.Cancellation).ConfigureAwait(false);
            Given.Refuse(answer.Error);
            EvidenceSheet s = answer.Sheet;
            Sheet sheet = new(s.Subject, s.Absent, s.Unknown, s.Foot, [.. s.Facts.Select(f => new Fact(f.Fact, f.State.ToString().ToLowerInvariant()))], Reason.From(s.Derivation));
            return session.Answer($"postpipeline.{name}/1", sheet, console => Print(console, sheet), sheet.Absent + sheet.Unknown > 0 ? ExitCode.No : ExitCode.Done);
        });
    }

    private static void Add(EvidenceItem item, EvidenceSheet sheet, string option, int[]? numbers, EvidenceState state)
    {
        foreach (int number in numbers ?? [])
        {
            item.Facts.Add(number >= 1 && number <= sheet.Facts.Count
                ? new EvidenceFact { Fact = sheet.Facts[number - 1].Fact, State = state }
                : throw Given.Refused(option, $"{number}", $"allowed is 1 to {sheet.Facts.Count}"));
        }
    }

    private static void Print(IAnsiConsole console, Sheet sheet)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns("", Markup.Escape(sheet.Subject), "state");
        for (int i = 0; i < sheet.Facts.Count; i++)
        {
            table.AddRow($"{i + 1}", Markup.Escape(sheet.Facts[i].Text), sheet.Facts[i].State);
        }

        console.Write(table);
        console.WriteLine(sheet.Foot);
        sheet.Derivation?.Print(console);
        console.WriteLine("Decided by (name, time, signature): ______________________________");
    }
}
