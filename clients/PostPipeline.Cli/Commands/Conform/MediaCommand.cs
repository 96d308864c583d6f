using System.CommandLine;
using System.Text;
using PostPipeline.Cli.Frame;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Contracts.Types.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Conform;

/// <summary><c>media</c>: did it come out right? A folder of media against the plan and a hash manifest.</summary>
internal static class MediaCommand
{
    private const int RowsShown = 50;

    private static readonly Argument<string> Folder = new("folder") { Description = "The folder of originals (or of whatever --kind says); ffprobe is asked about each file." };
    private static readonly Option<string> Kind = new("--kind") { Description = "What the folder holds: original, mezzanine or proxy.", DefaultValueFactory = _ => "original", HelpName = "KIND" };
    private static readonly Option<string?> Proxies = new("--proxies") { Description = "A folder of proxies to be compared one to one.", HelpName = "DIR" };
    private static readonly Option<string?> Plan = new("--plan") { Description = "What should be there, CSV like an inventory.", HelpName = "FILE" };
    private static readonly Option<string?> Manifest = new("--manifest") { Description = "A hash manifest of the folder: XML hash list or checksum text.", HelpName = "FILE" };
    private static readonly Option<string?> Write = new("--write") { Description = "Also write the list of media as an inventory, CSV.", HelpName = "FILE" };

    private sealed record Finding(string Name, string Clip, string Expected, string Found, string Description);

    private sealed record ManifestResult(int Entries, bool Complete, int HashesCompared, IReadOnlyList<string> Missing, IReadOnlyList<string> Extra, IReadOnlyList<string> Empty, IReadOnlyList<string> SizeDiffers);

    private sealed record Result(int PlannedClips, int FoundClips, int AsPlanned, int FindingsLeftOff, IReadOnlyList<Finding> Findings, ManifestResult? Manifest);

    public static Command Create()
    {
        Kind.AcceptOnlyFromAmong("original", "mezzanine", "proxy");
        return new Command("media", "Check a folder of media against the plan: count, frames, first label, rate, size, gaps, proxies.")
        {
            Folder, Kind, Proxies, Plan, Manifest, Write,
        }.Runs(RunAsync);
    }

    private static async Task<int> RunAsync(Session session)
    {
        string folder = session.Line.GetValue(Folder)!;
        (string rows, IReadOnlyList<(string Path, long Bytes)> files) =
            await MediaFolder.ListAsync(folder, session.Line.GetValue(Kind)!, session.Note, session.Cancellation).ConfigureAwait(false);
        string media = MediaFolder.Header + rows;
        if (session.Line.GetValue(Proxies) is { } proxies)
        {
            media += (await MediaFolder.ListAsync(proxies, "proxy", session.Note, session.Cancellation).ConfigureAwait(false)).Rows;
        }

        if (session.Line.GetValue(Write) is { } target)
        {
            string full = Path.GetFullPath(target);
            OutputFolder.Open(Path.GetDirectoryName(full)!).Write(Path.GetFileName(full), media);
        }

        string? planPath = session.Line.GetValue(Plan);
        string? manifestPath = session.Line.GetValue(Manifest);
        CheckMediaSettings settings = new() { ProxiesExpected = session.Line.GetValue(Proxies) is null ? Verdict.Unspecified : Verdict.Pass };
        if (planPath is not null)
        {
            settings.PlanMapping = HeaderMapping.Read(HeaderMapping.PathBeside(planPath)).ToMessage();
        }

        ConformCalls calls = new((await session.ClientsAsync().ConfigureAwait(false)).Conform);
        CheckMediaResponse answer;
        using (MemoryStream list = new(Encoding.UTF8.GetBytes(media)))
        using (FileStream? plan = planPath is null ? null : CutOptions.Open(planPath))
        using (FileStream? manifest = manifestPath is null ? null : CutOptions.Open(manifestPath))
        {
            // The manifest itself is no part of what it lists.
            string own = manifestPath is null ? string.Empty : Path.GetFullPath(manifestPath);
            answer = await calls.CheckMediaAsync(
                settings,
                list,
                plan,
                manifest,
                manifest is null ? [] : [.. files.Where(f => Path.GetFullPath(Path.Combine(folder, f.Path)) != own).Select(f => new FoundFile { Path = f.Path, SizeBytes = f.Bytes })],
                session.Cancellation).ConfigureAwait(false);
        }

        if (answer.Problems.Any(p => p.IsError))
        {
            throw new InputException([.. answer.Problems.Select(p => new InputProblem(
                p.File switch { ConformFile.Plan => planPath!, ConformFile.Manifest => manifestPath!, _ => folder }, p.Line, p.Column, p.Field, string.Empty, p.Message))]);
        }

        Result result = new(
            answer.PlannedClips,
            answer.FoundClips,
            answer.AsPlanned,
            answer.FindingsLeftOff,
            [.. answer.Findings.Select(f => new Finding(f.Name, f.Clip, f.Expected, f.Found, f.Description))],
            answer.Manifest is { } m ? new(m.Entries, m.Complete, m.HashesCompared, m.Missing, m.Extra, m.Empty, m.SizeDiffers) : null);
        bool good = result.Findings.Count == 0 && result.Manifest is null or { Complete: true };
        return session.Answer("postpipeline.media/1", result, console => Print(console, result), good ? ExitCode.Done : ExitCode.No);
    }

    private static void Print(IAnsiConsole console, Result result)
    {
        foreach (Finding finding in result.Findings.Take(RowsShown))
        {
            console.WriteLine(finding.Description);
        }

        CutRun.Rest(console, result.Findings.Count);
        console.WriteLine($"{result.FoundClips} clips found, {result.PlannedClips} planned, {result.AsPlanned} as planned, {result.Findings.Count + result.FindingsLeftOff} findings");
        if (result.Manifest is { } manifest)
        {
            foreach (string path in manifest.Missing.Take(RowsShown))
            {
                console.WriteLine($"{path} is in the manifest and not there.");
            }

            console.WriteLine(manifest.Complete
                ? $"All {manifest.Entries} files of the manifest are there in their size; {manifest.HashesCompared} hashes were compared, so their content is {(manifest.HashesCompared == 0 ? "not shown" : "shown for these")}."
                : $"Of {manifest.Entries} files of the manifest {manifest.Missing.Count} are missing, {manifest.Empty.Count} empty, {manifest.SizeDiffers.Count} of another size.");
            console.WriteLine("This is evidence, not permission: a named person decides about clearing a card.");
        }
    }
}
