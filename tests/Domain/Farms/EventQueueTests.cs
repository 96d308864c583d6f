using CsCheck;
using PostPipeline.Farms.Simulations;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

public class EventQueueTests
{
    // First in, first out among equals, past every growth of the heap, however adding and taking are mixed.
    [Theory]
    [InlineData(5_000, 1)]
    [InlineData(5_000, 7)]
    [InlineData(70_000, 3)]
    public void Take_SimultaneousEvents_KeepTheirOrder(int events, int takenEarly)
    {
        EventQueue queue = new();
        int next = 0;
        for (int i = 0; i < events; i++)
        {
            queue.Add(1000, EventKind.Task, i);
            if (i % (takenEarly + 1) == takenEarly && i < events / 2)
            {
                Assert.Equal(next++, queue.Take().Index);
            }
        }

        while (queue.NextTime != long.MaxValue)
        {
            FarmEvent taken = queue.Take();
            Assert.Equal(1000, taken.Time);
            Assert.Equal(next++, taken.Index);
        }

        Assert.Equal(events, next);
    }

    // Against a sorted list: time, then kind, then order of adding.
    [Fact]
    public void Take_AnySequence_IsTheSortedOne() =>
        Gen.Select(Gen.Long[0, 20], Gen.Int[0, 6], Gen.Bool).List[0, 300].Sample(steps =>
        {
            EventQueue queue = new();
            List<(long Time, int Kind, int Number)> expected = [];
            int number = 0;
            long clock = 0;
            foreach ((long delay, int kind, bool take) in steps)
            {
                queue.Add(clock + delay, (EventKind)kind, number);
                expected.Add((clock + delay, kind, number++));
                if (take)
                {
                    expected.Sort();
                    Assert.Equal(expected[0].Time, queue.NextTime);
                    FarmEvent taken = queue.Take();
                    Assert.Equal(expected[0], (taken.Time, (int)taken.Kind, taken.Index));
                    clock = taken.Time;
                    expected.RemoveAt(0);
                }
            }

            expected.Sort();
            foreach (var want in expected)
            {
                Assert.Equal(want.Number, queue.Take().Index);
            }

            Assert.Equal(long.MaxValue, queue.NextTime);
        });
}
