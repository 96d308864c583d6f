using System.Globalization;
using NodaTime;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Stages;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>
/// Nights in which the clocks change. IANA time zone database: Europe/Dublin leaves 01:00 for 02:00 on Sunday 2027-03-28 and
/// 02:00 for 01:00 on Sunday 2027-10-31 (Directive 2000/84/EC: last Sundays, 01:00 UTC); America/New_York leaves 02:00 for
/// 03:00 on Sunday 2027-03-14 and 02:00 for 01:00 on Sunday 2027-11-07 (Energy Policy Act of 2005). Hours are worked by hand.
/// </summary>
public sealed class ClockChangeTests
{
    private const string Dublin = "Europe/Dublin";
    private const string NewYork = "America/New_York";

    // A day of 24 h has an hour less in spring and an hour more in autumn; by day nothing changes.
    [Theory]
    [InlineData(Dublin, "2027-03-28", "00:00", "12:00", 11)]
    [InlineData(Dublin, "2027-10-31", "00:00", "12:00", 13)]
    [InlineData(NewYork, "2027-03-14", "00:00", "12:00", 11)]
    [InlineData(NewYork, "2027-11-07", "00:00", "12:00", 13)]
    [InlineData(Dublin, "2027-03-28", "09:00", "18:00", 9)]
    [InlineData(NewYork, "2027-11-07", "09:00", "18:00", 9)]
    [InlineData("UTC", "2027-03-28", "00:00", "12:00", 12)]

    // From 02:30, which is left out, until 06:00 there are three hours, from 03:00 on; until 02:30 there are two, from 00:00.
    [InlineData(NewYork, "2027-03-14", "02:30", "06:00", 3)]
    [InlineData(NewYork, "2027-03-14", "00:00", "02:30", 2)]

    // 01:30 comes twice: work until then ends at the first, after an hour and a half; work from then on has the hour again.
    [InlineData(NewYork, "2027-11-07", "00:00", "01:30", 1.5)]
    [InlineData(NewYork, "2027-11-07", "01:30", "06:00", 5.5)]
    public void WorkingHours_OnTheDay_AreTheHoursThatPass(string zone, string date, string from, string until, double hours)
    {
        PeoplePlan people = Brief($"people: {{from: '{from}', until: '{until}', days_off: []}}\n").People;
        Flows.Windows windows = Clock(zone).WorkingHours(people, Date(date), 1);
        Assert.Equal(hours, windows.TotalOpen / 3600.0);
    }

    // Nights from 19:00 to 08:00 have 13 h, that of the change 12 or 14; the whole Sunday has 23 or 25, of which the night
    // before it has taken its part already: Saturday's night and Sunday together end at Monday 00:00, 5 h + 23 or 25.
    [Theory]
    [InlineData(Dublin, "2027-03-27", "[]", 1, 12)]
    [InlineData(Dublin, "2027-10-30", "[]", 1, 14)]
    [InlineData(NewYork, "2027-03-13", "[]", 1, 12)]
    [InlineData(NewYork, "2027-11-06", "[]", 1, 14)]
    [InlineData(Dublin, "2027-03-20", "[]", 1, 13)]
    [InlineData(Dublin, "2027-03-27", "[sunday]", 2, 36)]
    [InlineData(Dublin, "2027-10-30", "[sunday]", 2, 38)]
    public void FarmHours_OverTheNight_AreTheHoursThatPass(string zone, string date, string allDay, int days, double hours)
    {
        FarmPlan farm = Brief($"farm: {{all_day: {allDay}}}\n").Farm;
        Flows.Windows windows = Clock(zone).FarmHours(farm, Date(date), days);
        Assert.Equal(hours, windows.TotalOpen / 3600.0);
    }

    [Theory]
    [InlineData("2027-03-13", "02:30", "08:00", 5, "2027-03-14 03:00")]
    [InlineData("2027-11-06", "01:30", "08:00", 7.5, "2027-11-07 01:30")]
    [InlineData("2027-11-08", "02:30", "08:00", 5.5, "2027-11-09 02:30")]
    public void FarmHours_BordersInTheChangedHour_OpenWhenItIsLeftOut(string before, string open, string close, double hours, string opens)
    {
        StudyClock clock = Clock(NewYork);
        Flows.Windows windows = clock.FarmHours(Brief($"farm: {{all_day: [], open: '{open}', close: '{close}'}}\n").Farm, Date(before).PlusDays(1), 1);
        Assert.Equal(hours, windows.TotalOpen / 3600.0);
        Assert.Equal(opens, clock.Text(windows.Intervals.Single().From));
    }

    // Saturday's material is where post works at 22:00: wrap 19:00, an hour of offload, two until it is collected. 648,000 frames
    // at 0.25 s on four nodes take 11 h 15 min: until 09:15 without a change, 10:15 where an hour is left out, 08:15 where one
    // comes twice.
    [Theory]
    [InlineData("2027-03-20", "2027-03-21 09:15")]
    [InlineData("2027-03-27", "2027-03-28 10:15")]
    [InlineData("2027-10-30", "2027-10-31 08:15")]
    public void FarmStage_ThroughTheNight_EndsByTheLocalClock(string saturday, string ends)
    {
        StudyModel model = Model(saturday, 1);
        Assert.Equal(ends, model.Clock.Text(model.Evaluate(DrawSet.Median(model.Inputs)).Pipelines[0].FarmFinish[0]));
    }

    // Two days; offload ends an hour after wrap, at 20:00, and the next call is at 08:00: twelve hours of rest, eleven or
    // thirteen over the night of the change. From the day of the change to the next it is twelve again.
    [Theory]
    [InlineData("2027-03-20", 12)]
    [InlineData("2027-03-27", 11)]
    [InlineData("2027-03-28", 12)]
    [InlineData("2027-10-30", 13)]
    [InlineData("2027-10-31", 12)]
    public void Rest_OverTheNight_IsTheHoursThatPass(string first, double hours)
    {
        StudyModel model = Model(first, 2);
        Assert.Equal(hours, model.Evaluate(DrawSet.Median(model.Inputs)).LeastRest[0] / 3600);
    }

    // The day of the change itself: material of Sunday is there at 22:00 by the clock, as on any day.
    [Theory]
    [InlineData("2027-03-28")]
    [InlineData("2027-10-31")]
    [InlineData("2027-03-21")]
    public void Offload_OnTheDay_EndsByTheLocalClock(string sunday)
    {
        StudyModel model = Model(sunday, 1);
        Assert.Equal($"{sunday} 20:00", model.Clock.Text(model.Evaluate(DrawSet.Median(model.Inputs)).OffloadEnd[0]));
    }

    // A lock at 18:00 that slips a week, a shoot that does, a due date moved by a week: the same time of day on another date.
    [Theory]
    [InlineData("2027-10-29", "2027-11-05 18:00")]
    [InlineData("2027-03-26", "2027-04-02 18:00")]
    [InlineData("2027-06-04", "2027-06-11 18:00")]
    public void CalendarDays_AcrossTheChange_KeepTheTimeOfDay(string day, string later)
    {
        StudyModel model = Model("2027-01-09", 1, lockDate: day);
        DrawSet median = DrawSet.Median(model.Inputs);
        Assert.Equal($"{day} 18:00", model.Clock.Text(model.Evaluate(median, [Change.Fix("edit.lock_slip", 0)]).Pipelines[0].Locked[0]));
        Assert.Equal(later, model.Clock.Text(model.Evaluate(median, [Change.Fix("edit.lock_slip", 7)]).Pipelines[0].Locked[0]));
        Assert.Equal(later, model.Clock.Text(model.Evaluate(median, [Change.Fix("edit.lock_slip", 0), Change.Plus("edit.lock", 7)]).Pipelines[0].Locked[0]));
        double at = model.Clock.EndOf(Date(day));
        Assert.Equal(later, model.Clock.Text(model.Clock.Later(at, 7)));
        Assert.Equal(at, model.Clock.Later(model.Clock.Later(at, 7), -7));
    }

    [Fact]
    public void ShootSlip_IntoSummerTime_KeepsTheTimeOfDay()
    {
        StudyModel model = Model("2027-03-25", 1);
        Assert.Equal("2027-04-01 20:00", model.Clock.Text(model.Evaluate(DrawSet.Median(model.Inputs), [Change.Fix("shoot.slip", 7)]).OffloadEnd[0]));
    }

    private static LocalDate Date(string text) => LocalDate.FromDateTime(DateTime.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture));

    private static StudyClock Clock(string zone) => new(DateTimeZoneProviders.Tzdb[zone], new LocalDate(2027, 3, 1));

    private static Brief Brief(string more) => BriefReader.Read("b.yaml", StudyFixtures.ThreeCameras + "\n" + more);

    private static StudyModel Model(string starts, int days, string lockDate = "2027-12-01")
    {
        string text = StudyFixtures.ThreeCameras
            .Replace("starts: 2026-09-07", $"starts: {starts}", StringComparison.Ordinal)
            .Replace("days: 25", $"days: {days}\n  days_off: []\n  day_spread: 0", StringComparison.Ordinal)
            .Replace("lock: 2027-03-01", $"lock: {lockDate}\n  after_material: 0 d", StringComparison.Ordinal)
            .Replace("due: 2027-05-03", "due: 2028-05-03", StringComparison.Ordinal)
            + "\npipelines: [transcode]\nfarm: {overhead: 0 s, failures: 0 %, available: 100 %, open: '00:00', close: '00:00'}\n";
        return new(StudyFixtures.Prepared(text, 0.25));
    }
}
