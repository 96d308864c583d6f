using PostPipeline.Embedded;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.SlatePlans;
using PostPipeline.Slates.Options;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>The slate of the demonstration as its notebook shows it, without the kernel: it does not fit, and the plan says what makes it fit.</summary>
public sealed class SlatePlansTests(SlatePlansTests.Prepared prepared) : IClassFixture<SlatePlansTests.Prepared>
{
    private const int Draws = 100;

    private SlateDemand Demand => prepared.Demand;

    private SlatePlanView Plan => prepared.Plan;

    // Derived: of 96 TB a fifth stays free and a quarter more is needed for redundancy: 96 × 0.8 ÷ 1.25 = 61.44 TB can be had.
    [Fact]
    public void Demand_EachOnItsCheapestPipeline_BreaksOnlineStorageFirst()
    {
        Assert.Contains("**it does not fit**. First **online** breaks", Demand.Fits.Text, StringComparison.Ordinal);
        Assert.Contains("The Saltmarsh Ledger transcode, Nine Tides transcode,", Demand.Fits.Text, StringComparison.Ordinal);
        Assert.All(Demand.Breaks.Rows, row =>
        {
            Assert.Equal("online", row[1]);
            Assert.Equal(61.44, (double)row[5]!, 0.1);
            Assert.True((double)row[4]! > (double)row[5]!);
        });
    }

    [Fact]
    public void Plan_OfTheDemonstration_SaysWhoGoesProxyAndWhatIsRented()
    {
        string answer = Plan.Answer.Text;
        Assert.Contains("**Every date is kept**", answer, StringComparison.Ordinal);
        Assert.Contains("**The Saltmarsh Ledger goes proxy**, although transcode is cheaper for it alone.", answer, StringComparison.Ordinal);
        Assert.Contains("**Nine Tides goes proxy**, although transcode is cheaper for it alone.", answer, StringComparison.Ordinal);
        Assert.Contains("TB of online storage", answer, StringComparison.Ordinal);
        Assert.Equal("transcode", Plan.Projects.Rows.Single(r => (string)r[0]! == "Kiln Street Late")[2]);
        Assert.All(Plan.Proof.Rows.Take(2), r => Assert.Equal((0L, true), ((long)r[1]!, (bool)r[4]!)));
    }

    // What is kept and what is worked never exceeds what there is with what is rented, on any day.
    [Fact]
    public void Loads_OfThePlan_StayWithinCapacity()
    {
        foreach (Figure figure in new[] { Plan.FarmLoad, Plan.Occupancy })
        {
            Assert.NotEmpty(figure.Table.Rows);
            Assert.All(
                figure.Table.Rows.GroupBy(r => (r[0], r[1])),
                day => Assert.True(day.Sum(r => (double)r[3]!) <= (double)day.First()[4]! + 1e-9, $"{day.Key}"));
        }

        // Every project of the plan works on the farm.
        Assert.Equal(6, Plan.FarmLoad.Table.Rows.Select(r => r[2]).Distinct().Count());
    }

    [Fact]
    public void Reasons_OfThePlan_NameTheStorageThatBinds()
    {
        NumberTable reasons = Plan.Reasons(1);
        string Of(string project, string instead) => (string)reasons.Rows.Single(r => (string)r[0]! == project && (string)r[2]! == instead)[3]!;
        Assert.Contains("what is rented costs", Of("Nine Tides", "transcode"), StringComparison.Ordinal);
        Assert.EndsWith("the limit is online", Of("Nine Tides", "transcode"), StringComparison.Ordinal);
        Assert.DoesNotContain(reasons.Rows, r => (string)r[0]! == "Kiln Street Late");
    }

    [Fact]
    public void Schedule_OfThePlan_HasEveryStageBeforeTheNext()
    {
        Figure schedule = Plan.Schedule;
        var rows = schedule.Table.Rows.Select(r => (Project: (string)r[0]!, Stage: (string)r[2]!, Work: (string)r[3]!, Start: (DateTime)r[4]!, End: (DateTime)r[5]!, Due: (DateTime)r[6]!)).ToArray();
        Assert.Equal(6, rows.Select(r => r.Project).Distinct().Count());
        Assert.All(rows.GroupBy(r => r.Project), p =>
        {
            Assert.Equal("shoot", p.MinBy(r => r.Start).Work);
            Assert.True(p.First(r => r.Work == "shoot").End <= p.First(r => r.Stage == "grade").Start);
            Assert.True(p.Max(r => r.End) <= p.First().Due);
        });
    }

    // A lock that holds is never later than one that slips, on the same draws.
    [Fact]
    public void OnTime_LocksThatHold_AreAtLeastAsSure()
    {
        Assert.All(Plan.OnTime.Table.Rows, r => Assert.True(((Chance)r[1]!).Value >= ((Chance)r[2]!).Value, $"{r[0]}"));
        Assert.All(Plan.Lateness.Table.Rows, r => Assert.True((double)r[1]! <= (double)r[2]! && (double)r[2]! <= (double)r[3]!));
    }

    // The shoot of the second project starts on 2027-01-18; a week before, it slips to 2027-01-25. Nobody who was not hit
    // moves: the shoot that slips has its own people and dates, and the farm has room.
    [Fact]
    public void After_ShootSlipsAWeek_MovesItsOwnShootAndLeavesTheOthersWhereTheyWere()
    {
        SlateShockView after = Plan.After("the shoot slips a week", 2, 1, 1);
        Assert.StartsWith("Nine Tides, the shoot slips a week, known on 2027-01-11: ", after.Answer.Text, StringComparison.Ordinal);
        Assert.All(after.Moves.Rows, r => Assert.Equal((string)r[0]! == "Nine Tides", ((string)r[7]!).Contains("shoot", StringComparison.Ordinal)));
        Assert.All(after.Moves.Rows.Where(r => (string)r[0]! != "Nine Tides"), r => Assert.Equal("none", r[7]));
        Assert.Throws<ArgumentException>(() => Plan.After("rain", 1, 1, 1));
    }

    [Fact]
    public void After_GrowingWhatAProjectDoesNotHave_SaysThatNothingHappens()
    {
        string grown = SlateShock.Effects.Text;
        SlateShockView shaken = Plan.After(grown, 2, 1, 1);
        Assert.StartsWith("Nine Tides, effects grown by half: **nothing happens**; the brief of Nine Tides has no effects", shaken.Answer.Text, StringComparison.Ordinal);
        Assert.Empty(shaken.Moves.Rows);
    }

    // Three versions of 4 days become three of 6: six days more between the plates and the grade.
    [Fact]
    public void Effects_GrownByHalf_MoveTheirOwnProjectOnly()
    {
        NumberTable moves = Plan.After(SlateShock.Effects.Text, 1, 1, 2).Moves;
        Assert.Equal(6, moves.Rows.Count);
        Assert.All(moves.Rows.Where(r => (string)r[0]! != "The Saltmarsh Ledger"), r => Assert.Equal(r[3], r[4]));
        Assert.DoesNotContain("shoot", (string)moves.Rows[0][7]!, StringComparison.Ordinal);
    }

    // 3 nodes from 20:00 to 08:00 on five days and all day at the weekend: 3 × (5 × 12 + 48) = 324 node-hours, as half-days of
    // equal length; eight people of 9 h on five days, 360 person-hours.
    [Fact]
    public void Used_AWeekOfThePlan_IsWithinWhatThereIs()
    {
        NumberTable used = Plan.Used(8);
        object?[] there = [.. used.Rows[^1]];
        Assert.Equal(324, (double)there[1]!, 3.0);
        Assert.Equal(360, (double)there[3]!, 1e-9);
        for (int column = 1; column < 4; column++)
        {
            double all = used.Rows.SkipLast(1).Sum(r => (double)r[column]!);
            Assert.InRange(all, 1, (double)there[column]!);
        }
    }

    // The same seed gives the same plan, whatever the number of threads.
    [Fact]
    public void Plan_OnOneThreadAndOnTwo_IsTheSame()
    {
        string With(int threads) => Demand.Plan(1, threads).Schedule.Table.ToCsv();
        Assert.Equal(With(1), With(2));
    }

    public sealed class Prepared : IAsyncLifetime
    {
        private readonly string data = Directory.CreateTempSubdirectory("postpipeline-slate-").FullName;
        private EmbeddedSuite? suite;

        public SlateDemand Demand { get; private set; } = null!;

        public SlatePlanView Plan { get; private set; } = null!;

        public async Task InitializeAsync()
        {
            suite = EmbeddedSuite.InFolder(data);
            Demand = (await SlateStudy.PrepareAsync(suite.Clients)).Evaluate(Draws);
            Plan = Demand.Plan(2);
        }

        public async Task DisposeAsync()
        {
            await suite!.DisposeAsync();
            Directory.Delete(data, recursive: true);
        }
    }
}
