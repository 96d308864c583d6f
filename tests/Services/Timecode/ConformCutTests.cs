using System.Diagnostics;
using System.Text;
using Grpc.Core;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Services.Tests.Timecode;

public abstract partial class ConformGrpcServiceTests<TTransport>
{
    private const string List = """
        TITLE: TWO REELS
        FCM: NON-DROP FRAME
        001  A001     V     C        10:00:05:00 10:00:07:00 01:00:00:00 01:00:02:00
        * FROM CLIP NAME: A001C001
        002  A009     V     C        10:00:05:00 10:00:07:00 01:00:02:00 01:00:04:00
        * FROM CLIP NAME: A009C001
        """;

    private const string OldList = """
        TITLE: TWO REELS
        FCM: NON-DROP FRAME
        001  A001     V     C        10:00:05:00 10:00:06:00 01:00:00:00 01:00:01:00
        * FROM CLIP NAME: A001C001
        """;

    private const string Inventory = "name,reel,start,frames,rate,bytes,medium,trimmable\nA001C001,A001,10:00:00:00,480,24,4800,T1,yes\n";

    [Fact]
    public async Task ConformCut_OneFoundOneNot_AnswersInParts()
    {
        ConformAnswer answer = await ConformAsync(Settings(), List, null, Inventory);
        Assert.False(answer.Summary.Refused);
        Assert.Equal(("TWO REELS", 2, 1), (answer.Summary.Title, answer.Summary.Events, answer.Summary.EventsForPerson));
        EventRow row = Assert.Single(answer.Events);
        Assert.Equal(("002", ConformClass.None, 5), (row.Number, row.Class, row.Rung));
        Assert.NotEmpty(row.NextStep);
        PullRow range = Assert.Single(answer.Pull);
        Assert.Equal(("T1", 112L, 64L, 640L), (range.Medium, range.FirstFrame, range.Frames, range.Bytes));
        Assert.Equal(1, answer.Summary.EventsLeftOut);
        Assert.Equal(["pull-24.edl", "pull.csv", "pull.otio"], answer.Files.Keys.Order(StringComparer.Ordinal));
        Assert.Contains("FROM CLIP NAME: A001C001", Encoding.UTF8.GetString(answer.Files["pull-24.edl"]), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ConformCut_WithAnOlderCut_ListsChangesAndWhatIsStillToFetch()
    {
        ConformAnswer answer = await ConformAsync(Settings(), List, OldList, Inventory);
        Assert.Equal((1, 1, 0), (answer.Summary.Difference.Trimmed, answer.Summary.Difference.Added, answer.Summary.Difference.Removed));
        Assert.Equal(24 + 48, answer.Summary.Difference.FramesToRender);
        Assert.Equal(24, answer.Summary.Difference.ToFetch.Frames);
        Assert.Equal(2, answer.Changes.Count);
    }

    [Fact]
    public async Task ConformCut_Timeline_IsTheSameQuestion()
    {
        ConformSettings settings = Settings();
        ConformAnswer pulled = await ConformAsync(settings, List, null, Inventory);
        settings.Format = CutFormat.Timeline;
        settings.Rate = null;
        ConformAnswer answer = await ConformAsync(settings, Encoding.UTF8.GetString(pulled.Files["pull.otio"]), null, Inventory);
        Assert.Equal((1, 0), (answer.Summary.Events, answer.Summary.EventsForPerson - answer.Summary.Classes.Where(c => c.Class == ConformClass.ShortHandles).Sum(c => c.Events)));
    }

    [Fact]
    public async Task ConformCut_WrongFiles_AreRefusedWithLineAndColumn()
    {
        ConformAnswer answer = await ConformAsync(Settings(), List + "\n003  A001 V Q 00:00:00:00 00:00:00:01 00:00:00:00 00:00:00:01", null, Inventory + "X,,,0,24,,,\n");
        Assert.True(answer.Summary.Refused);
        Assert.Empty(answer.Events);
        Assert.Equal(
            [(ConformFile.Cut, 7, 13), (ConformFile.Inventory, 3, 5)],
            answer.Problems.Where(p => p.IsError).Select(p => (p.File, p.Line, p.Column)));
    }

    [Fact]
    public async Task ConformCut_RateRuledOutByTheNumbers_IsRefused()
    {
        ConformAnswer answer = await ConformAsync(Settings(), List.Replace("10:00:07:00", "10:00:06:24", StringComparison.Ordinal), null, Inventory);
        Assert.True(answer.Summary.Refused);
        Assert.Contains("at least 25", answer.Problems[0].Message, StringComparison.Ordinal);
        Assert.Equal(25, answer.Summary.RatesAllowed[0].Numerator);
    }

    [Fact]
    public async Task ConformCut_WrongSettings_NamesThem()
    {
        ConformSettings settings = Settings();
        settings.HandleFrames = -1;
        settings.Rate = null;
        settings.Mapping = new() { Columns = { ["Clip"] = "nonsense" } };
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => ConformAsync(settings, List, null, Inventory));
        Assert.Equal(StatusCode.InvalidArgument, refused.StatusCode);
        Assert.Equal(["settings.handle_frames", "settings.mapping.columns", "settings.rate"], refused.Violations.Select(v => v.Field).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task ConformCut_ManyRows_ComeInMessagesOfAThousand()
    {
        StringBuilder list = new("TITLE: MANY\nFCM: NON-DROP FRAME\n");
        StringBuilder inventory = new("name,reel,start,frames,rate\n");
        for (int i = 0; i < 3_500; i++)
        {
            list.Append($"{(i % 999) + 1:D3}  R{i:D5}   V     C        10:00:05:00 10:00:07:00 01:00:00:00 01:00:02:00\n");
            inventory.Append($"C{i:D5},R{i:D5},10:00:00:00,480,24\n");
        }

        ConformSettings settings = Settings();
        settings.AllEvents = true;
        ConformAnswer answer = await ConformAsync(settings, list.ToString(), null, inventory.ToString());
        Assert.Equal((3_500, 3_500, 0), (answer.Events.Count, answer.Pull.Count, answer.Summary.EventsForPerson));
        Assert.All(answer.Events, e => Assert.Equal(2, e.Rung));
    }

    // Clips made by ffmpeg with a timecode track (Debian's ffmpeg 5.1.9): what ffprobe says of them is the outside answer.
    [SkippableFact]
    public async Task CheckMedia_FolderMadeByFfmpeg_IsComparedWithThePlan()
    {
        string ffmpeg = Outside.Program("ffmpeg");
        _ = Outside.Program("ffprobe");
        string folder = Directory.CreateTempSubdirectory("media-check-").FullName;
        try
        {
            Directory.CreateDirectory(Path.Combine(folder, "o"));
            Directory.CreateDirectory(Path.Combine(folder, "p"));
            await MakeAsync(ffmpeg, Path.Combine(folder, "o", "A001C001.mov"), "24", "320x240", 48, "10:00:00:00");
            await MakeAsync(ffmpeg, Path.Combine(folder, "o", "A001C002.mov"), "24", "320x240", 30, "10:01:00:00");
            await MakeAsync(ffmpeg, Path.Combine(folder, "o", "A001C004.mov"), "30000/1001", "160x120", 30, "10:02:00;02");
            await MakeAsync(ffmpeg, Path.Combine(folder, "p", "A001C001_PX.mov"), "24", "160x120", 48, "10:00:00:00");
            (string rows, IReadOnlyList<(string Path, long Bytes)> files) = await MediaFolder.ListAsync(Path.Combine(folder, "o"), "original", _ => { });
            (string proxies, _) = await MediaFolder.ListAsync(Path.Combine(folder, "p"), "proxy", _ => { });
            Assert.Equal(3, files.Count);
            Assert.Contains("A001C004.mov,10:02:00;02,30,30000/1001,yes,original,", rows, StringComparison.Ordinal);

            string plan = "name,start,frames,rate,width,height\nA001C001,10:00:00:00,48,24,320,240\nA001C002,10:01:00:00,31,24,320,240\nA001C003,10:01:30:00,31,24,320,240\nA001C004,10:02:00;02,30,30000/1001,320,240\n";
            string manifest = "d41d8cd98f00b204e9800998ecf8427e  A001C001.mov\nd41d8cd98f00b204e9800998ecf8427e  A001C003.mov\n";
            CheckMediaResponse answer = await new ConformCalls(client).CheckMediaAsync(
                new() { ProxiesExpected = PostPipeline.Contracts.Types.V1.Verdict.Fail },
                Bytes(MediaFolder.Header + rows + proxies),
                Bytes(plan),
                Bytes(manifest),
                [.. files.Select(f => new FoundFile { Path = f.Path, SizeBytes = f.Bytes })]);
            Assert.Empty(answer.Problems);
            Assert.Equal((4, 4, 1), (answer.PlannedClips, answer.FoundClips, answer.AsPlanned));
            Assert.Equal(
                [("frames", "A001C002"), ("missing", "A001C003"), ("numbering", "A001C003"), ("raster", "A001C004"), ("unplanned", "A001C001_PX.mov")],
                answer.Findings.Select(f => (f.Name, f.Clip)).Order());
            Assert.Equal(["A001C003.mov"], answer.Manifest.Missing);
            Assert.False(answer.Manifest.Complete);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task Verbs_ConformAndPull_AnswerFromFiles()
    {
        string folder = Directory.CreateTempSubdirectory("conform-verbs-").FullName;
        try
        {
            string cut = Path.Combine(folder, "cut.edl");
            string clips = Path.Combine(folder, "clips.csv");
            await File.WriteAllTextAsync(cut, List);
            await File.WriteAllTextAsync(clips, Inventory.Replace("name,", "Clip,", StringComparison.Ordinal).Replace(",rate", ",Speed", StringComparison.Ordinal).Replace(",24,", ",24.00,", StringComparison.Ordinal));
            (int code, string output, string error) = await RunAsync("conform", cut, "--inventory", clips, "--rate", "24");
            Assert.Equal(ExitCode.BadInput, code);
            Assert.Contains("clips.csv:1:1: name: no column gives name", error, StringComparison.Ordinal);

            (code, output, error) = await RunAsync("conform", cut, "--inventory", clips, "--rate", "24", "--map", "Clip=name", "--map", "Speed=rate", "--word", "rate:24.00=24", "--json");
            Assert.Equal(ExitCode.No, code);
            Assert.Contains("\"schema\": \"postpipeline.conform/1\"", output, StringComparison.Ordinal);
            Assert.Contains("\"events_for_person\": 1", output, StringComparison.Ordinal);

            // The mapping is remembered.
            string target = Path.Combine(folder, "pull");
            (code, output, _) = await RunAsync("pull", cut, "--inventory", clips, "--rate", "24", "--handles", "8", "--out", target);
            Assert.Equal(ExitCode.No, code);
            Assert.Contains("as planned", output, StringComparison.Ordinal);
            Assert.Equal(["pull-24.edl", "pull.csv", "pull.otio"], Directory.GetFiles(target).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] arguments)
    {
        using StringWriter output = new();
        using StringWriter error = new();
        return (await PostPipeline.Cli.Frame.CommandLine.RunAsync(arguments, output, error, CancellationToken.None), output.ToString(), error.ToString());
    }

    private static async Task MakeAsync(string ffmpeg, string path, string rate, string size, int frames, string label)
    {
        ProcessStartInfo start = new(ffmpeg) { RedirectStandardError = true };
        foreach (string argument in (string[])["-v", "error", "-y", "-f", "lavfi", "-i", $"testsrc=size={size}:rate={rate}", "-frames:v", $"{frames}", "-timecode", label, "-c:v", "mpeg4", path])
        {
            start.ArgumentList.Add(argument);
        }

        using Process process = Process.Start(start)!;
        string errors = await process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, errors);
    }

    private static ConformSettings Settings() => new()
    {
        Rate = new() { Numerator = 24, Denominator = 1 },
        HandleFrames = 8,
        Pull = new() { MergeGapFrames = 24, Formats = { PullFormat.Csv, PullFormat.EditList, PullFormat.Timeline } },
    };

    private static MemoryStream Bytes(string text) => new(Encoding.UTF8.GetBytes(text));

    private Task<ConformAnswer> ConformAsync(ConformSettings settings, string list, string? old, string inventory) =>
        new ConformCalls(client).ConformAsync(settings, Bytes(list), old is null ? null : Bytes(old), Bytes(inventory));
}
