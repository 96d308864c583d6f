using NodaTime;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Planning;
using PostPipeline.Slates.Usage;
using PostPipeline.Studies.Reforecasts;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates.Usage;

/// <summary>
/// A week counted by hand. One project: shoot in half-days 0 to 4, transcode on 4 nodes in 4 to 8, conform by one assistant
/// in 8 to 18 with six working half-days (8, 9 and after the weekend 14 to 17). Originals, 20 tenths of a TB, from 0 to 18;
/// a mezzanine, 10 tenths, from 4 to 20. An open half-day of the farm has 12 h, one of an assistant 4 h.
/// </summary>
public sealed class WeekUsageTests
{
    private static readonly LocalDate Monday = new(2030, 1, 7);

    private static readonly SlateProblem Slate = new()
    {
        Clock = new(Monday, 40),
        Calendars = [new("assistants", [.. Enumerable.Range(0, 40).Select(s => s / 2 % 7 < 5)])],
        Resources =
        [
            new("nodes", SlateResourceKind.FarmClass, 4),
            new("online", SlateResourceKind.Storage, 100),
            new("assistants", SlateResourceKind.People, 2) { Calendar = "assistants" },
            new("assistants or checkers", SlateResourceKind.People, 2) { Calendar = "assistants" },
        ],
        Projects =
        [
            new("Alder", 30, [new("transcode",
            [
                new("shoot") { Duration = 4 },
                new("transcode") { After = [new("shoot")], Farm = [new("nodes", 16, [4])] },
                new("conform") { After = [new("transcode")], Duration = 6, Uses = [new("assistants", 1), new("assistants or checkers", 1)] },
            ])
            {
                Lives = [new("originals", "online", 20, "shoot", "conform"), new("mezzanine", "online", 10, "transcode", "conform", 2)],
            }]),
        ],
    };

    private static readonly SlatePlan Plan = new(
        [new("Alder", "transcode", [new("shoot", 0, 4, null, 0), new("transcode", 4, 8, "nodes", 4), new("conform", 8, 18, null, 0)], 0, 0)], [], []);

    private static readonly Person Orla = new(
        "Orla", ["assistants"], new(9, 0), new(17, 0), [IsoDayOfWeek.Saturday, IsoDayOfWeek.Sunday], [new("ALDER", new(2030, 1, 10), new(2030, 1, 12))]);

    [Fact]
    public void Of_NothingLogged_IsThePlansOwn()
    {
        WeekUsage usage = Of(Monday.PlusDays(2), []);
        Assert.Equal((Monday, Monday.PlusDays(6)), (usage.From, usage.Until));
        Assert.Equal(
            [
                // 4 nodes in 4 half-days of 12 h.
                new("Alder", UsageKind.NodeHours, "nodes", UsageBasis.Planned, 192, 7),

                // Originals 2 TB for 7 days; mezzanine 1 TB for the ten half-days from 4 to 14.
                new("Alder", UsageKind.TbDays, "online", UsageBasis.Planned, 14 + 5, 7),

                // Half-days 8 and 9, of 4 h; the group of skills does not count them twice.
                new("Alder", UsageKind.PersonHours, "assistants", UsageBasis.Planned, 8, 7),
            ],
            usage.Rows);
    }

    [Fact]
    public void Of_TheWeekAfter_CountsWhatIsLeft()
    {
        WeekUsage usage = Of(Monday.PlusDays(13), []);
        Assert.Equal(Monday.PlusDays(7), usage.From);
        Assert.Equal(
            [

                // Originals for half-days 14 to 18, mezzanine for 14 to 20.
                new("Alder", UsageKind.TbDays, "online", UsageBasis.Planned, 4 + 3, 7),
                new("Alder", UsageKind.PersonHours, "assistants", UsageBasis.Planned, 16, 7),
            ],
            usage.Rows);
    }

    [Fact]
    public void Of_DaysThatWereLogged_AreMeasuredAndTheOthersPlanned()
    {
        // 36,000 s and 7,200 s are 12 node-hours on two days; of the transcode only half-days 6 and 7, the Thursday, are not logged.
        // 1 TB at the end of Monday, 3 TB from Tuesday on.
        WeekUsage usage = Of(Monday, [Day(0, 1e12, 36_000), Day(1, 2e12, double.NaN), Day(2, 0, 7_200)]);
        Assert.Equal(
            [
                new("Alder", UsageKind.NodeHours, "farm", UsageBasis.Measured, 12, 2),
                new("Alder", UsageKind.NodeHours, "nodes", UsageBasis.Planned, 96, 5),
                new("Alder", UsageKind.TbDays, "online", UsageBasis.Measured, 1 + (6 * 3), 7),
                new("Alder", UsageKind.TbDays, "online", UsageBasis.Planned, 5, 7),
                new("Alder", UsageKind.PersonHours, "assistants", UsageBasis.Planned, 8, 7),
            ],
            usage.Rows);
    }

    // The log stops on Monday, the shoot goes on until Tuesday: from Tuesday on nobody has said what was recorded.
    [Fact]
    public void Of_LogThatStopsDuringTheShoot_IsPlannedFromThenOn()
    {
        ProjectUsage[] kept = [.. Of(Monday, [Day(0, 1e12, double.NaN)]).Rows.Where(r => r.Kind == UsageKind.TbDays)];
        Assert.Equal((UsageBasis.Measured, 1.0, 1), (kept[0].Basis, kept[0].Amount, kept[0].Days));
        Assert.Equal((UsageBasis.Planned, 12.0 + 5), (kept[1].Basis, kept[1].Amount));
    }

    // Orla is booked for it from Thursday to Saturday, and has the weekend off: two days of 8 h. Capitals do not matter.
    [Fact]
    public void Of_PeopleBookedForAProject_AreCountedAsBooked()
    {
        WeekUsage usage = WeekUsage.Of(Slate, Plan, Hours, Monday, new Dictionary<string, IReadOnlyList<LogDay>>(), [Orla]);
        Assert.Equal(new("Alder", UsageKind.PersonHours, "Orla", UsageBasis.Booked, 16, 2), usage.Rows[^1]);
        Assert.Equal(
            [
                new(UsageKind.NodeHours, "nodes", 4 * 14 * 12),
                new(UsageKind.TbDays, "online", 70),
                new(UsageKind.PersonHours, "people", 3 * 8),
            ],
            usage.Supply);
    }

    [Fact]
    public void Of_WeekOutsideTheSlate_IsRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Of(Monday.PlusDays(-1), []));
        Assert.Throws<ArgumentOutOfRangeException>(() => Of(Monday.PlusDays(21), []));

        // The last week of the clock has six days.
        Assert.Equal((Monday.PlusDays(14), Monday.PlusDays(19)), Of(Monday.PlusDays(14), []) is var last ? (last.From, last.Until) : default);
    }

    private static LogDay Day(int day, double bytes, double farmSeconds) => new(
        Monday.PlusDays(day), "main", double.NaN, bytes, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, farmSeconds);

    private static double Hours(string resource) => resource == "farm" ? 12 : 4;

    private static WeekUsage Of(LocalDate day, IReadOnlyList<LogDay> log) => WeekUsage.Of(
        Slate, Plan, Hours, day, log.Count == 0 ? new Dictionary<string, IReadOnlyList<LogDay>>() : new Dictionary<string, IReadOnlyList<LogDay>> { ["Alder"] = log }, []);
}
