using CsCheck;
using PostPipeline.Flows;
using Xunit;

namespace PostPipeline.Domain.Tests.Flows;

public class FluidServiceTests
{
    // Derived: 30 units at speed 2 through [0, 10) and [20, 30) take 15 open units: all of the first window, half of the second.
    [Fact]
    public void Finish_TwoNights_WorkWaitsForTheSecond()
    {
        FluidService service = new(Windows.From([(0, 10), (20, 30)]), [0]);
        Assert.Equal(25, service.Finish([30.0], 2));
        Assert.Equal(10, service.Finish([20.0], 2));
        Assert.Null(service.Finish([41.0], 2));
    }

    // Derived: the second batch finds the first done, so the server idles until it arrives.
    [Fact]
    public void FinishEach_IdleBetweenBatches_StartsAtTheArrival()
    {
        FluidService service = new(Windows.Always, [0, 100]);
        long[] ends = new long[2];
        service.FinishEach([50.0, 60.0], 1, ends);
        Assert.Equal([50, 160], ends);
    }

    [Fact]
    public void Span_LongestTask_NothingEndsBeforeIt()
    {
        FluidService service = new(Windows.Always, [0, 10]);
        Assert.Equal(17, service.Span([4.0, 4.0], 4, 0, 7));
        Assert.Equal(0, service.Span([0.0, 0.0], 4, 5, 7));
        Assert.Equal(double.PositiveInfinity, service.Span([1.0, 0.0], 0));
    }

    // Property: walking the clock unit by unit is the slow obvious version.
    [Fact]
    public void Finish_AnyArrivals_EqualsPouringByHand()
    {
        var windows = Gen.Select(Gen.Long[0, 150], Gen.Long[1, 30], (from, length) => (from, from + length)).List[1, 8].Select(Windows.From);
        Gen.Select(windows, Gen.Select(Gen.Long[0, 120], Gen.Int[0, 12]).List[1, 6], Gen.Int[1, 3]).Sample((open, arrivals, speed) =>
        {
            var sorted = arrivals.OrderBy(a => a.Item1).ToList();
            FluidService service = new(open, [.. sorted.Select(a => a.Item1)]);
            long? finish = service.Finish([.. sorted.Select(a => (double)a.Item2 * speed)], speed);
            double left = 0;
            long? expected = sorted.All(a => a.Item2 == 0) ? sorted[0].Item1 : null;
            for (long t = 0; t < 400 && expected is null; t++)
            {
                left += sorted.Where(a => a.Item1 == t).Sum(a => a.Item2);
                left -= open.IsOpen(t) && left > 0 ? 1 : 0;
                expected = left == 0 && !sorted.Any(a => a.Item1 > t && a.Item2 > 0) && sorted.Any(a => a.Item1 <= t && a.Item2 > 0) ? t + 1 : null;
            }

            Assert.Equal(expected, finish);
        });
    }

    [Theory]
    [InlineData(12, 12, 0)]
    [InlineData(13, 12, 11.0 / 12)]
    [InlineData(1, 12, 11.0 / 12)]
    [InlineData(0, 12, 0)]
    public void Mean_EqualTasks_IsTheRestOfTheLastWave(long tasks, long servers, double tail) =>
        Assert.Equal(tail, FluidTail.Mean(tasks, servers, 1, true), 1e-12);

    [Fact]
    public void Limit_LeastSpeed_IsNamed()
    {
        Assert.Equal(FluidLimit.Nodes, FluidCapacity.Of(8).Limit);
        Assert.Equal(FluidLimit.Licences, FluidCapacity.Of(8, 1, 6).Limit);
        FluidCapacity storage = FluidCapacity.Of(11, 1, null, 1200, 115.016);
        Assert.Equal(FluidLimit.Storage, storage.Limit);
        Assert.Equal(10.43, storage.Speed, 0.01);
    }
}
