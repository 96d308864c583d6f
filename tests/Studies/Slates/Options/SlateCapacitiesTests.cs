using NodaTime;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Tests.Slates.Files;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates.Options;

/// <summary>What of a slate's means is there on which day.</summary>
public sealed class SlateCapacitiesTests
{
    private const string Tall = "    - {name: tall, count: 10, cores: 32, clock_ghz: 3.0, memory_gb: 128}\n";
    private const string Farm = "  - {what: farm, from: 2027-02-06}\n";

    // One class is looked after on two days and the whole farm on another: each is shut on its own days, in both half-days.
    [Fact]
    public void Maintenance_OfOneClass_ShutsThatClassAndNoOther()
    {
        Slate slate = SlateSamples.Read(SlateSamples.TwoProjects
            .Replace(Tall, Tall + "    - {name: small, count: 4, cores: 16, clock_ghz: 3.0, memory_gb: 64}\n", StringComparison.Ordinal)
            .Replace(Farm, Farm + "  - {what: small, from: 2027-02-08, until: 2027-02-09}\n", StringComparison.Ordinal));
        SlateTime time = new(slate);
        SlateCapacities capacities = new(slate, time);
        (LocalDate, bool)[] Shut(string node)
        {
            SlateCalendar calendar = capacities.Calendars.Single(c => c.Name == capacities.Resources.Single(r => r.Name == node).Calendar);
            return [.. Enumerable.Range(0, time.Clock.Slots).Where(s => !calendar.Open[s]).Select(s => (time.Clock.DateOf(s), SlateClock.IsSecondHalf(s)))];
        }

        (LocalDate, bool)[] tall = Shut("tall");
        Assert.Equal([(new(2027, 2, 6), false), (new(2027, 2, 6), true)], tall.Where(t => t.Item1 >= new LocalDate(2027, 2, 1) && t.Item1 <= new LocalDate(2027, 2, 28)));
        Assert.Equal([(new(2027, 2, 8), false), (new(2027, 2, 8), true), (new(2027, 2, 9), false), (new(2027, 2, 9), true)], Shut("small").Except(tall));
    }
}
