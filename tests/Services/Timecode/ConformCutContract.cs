using System.Text;
using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.ConformSamples;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>Conforming a cut with an inventory.</summary>
public abstract class ConformCutContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    private const string OldList = """
        TITLE: TWO REELS
        FCM: NON-DROP FRAME
        001  A001     V     C        10:00:05:00 10:00:06:00 01:00:00:00 01:00:01:00
        * FROM CLIP NAME: A001C001
        """;

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

    private static ConformSettings Settings() => new()
    {
        Rate = new() { Numerator = 24, Denominator = 1 },
        HandleFrames = 8,
        Pull = new() { MergeGapFrames = 24, Formats = { PullFormat.Csv, PullFormat.EditList, PullFormat.Timeline } },
    };

    private Task<ConformAnswer> ConformAsync(ConformSettings settings, string list, string? old, string inventory) =>
        new ConformCalls(Clients.Conform).ConformAsync(settings, Bytes(list), old is null ? null : Bytes(old), Bytes(inventory));
}

public sealed class EmbeddedConformCutTests : ConformCutContract<EmbeddedTransport>;

public sealed class NetworkConformCutTests : ConformCutContract<KestrelTransport>;
