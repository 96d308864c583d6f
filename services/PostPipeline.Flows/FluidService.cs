using PostPipeline.Quantities;

namespace PostPipeline.Flows;

/// <summary>
/// Work that arrives in batches and is done first come, first served through windows at one speed, as if it were a fluid:
/// the fast model of a farm. In open time, batch i is done at c(i) = max(c(i−1), u(i)) + w(i)/speed, where u(i) is the open
/// time up to its arrival (Lindley's recursion); only the answer is turned back into clock time.
/// </summary>
/// <remarks>The service is built once for a set of arrivals and then evaluated in every draw without allocating.</remarks>
public sealed class FluidService
{
    private readonly Windows open;
    private readonly long origin;
    private readonly long[] releases;
    private readonly double[] openAtRelease;

    /// <summary>Prepares arrivals.</summary>
    /// <param name="open">When work is done.</param>
    /// <param name="releases">When each batch arrives, ascending; at least one.</param>
    /// <exception cref="ArgumentException">No batch, or releases that go back in time.</exception>
    public FluidService(Windows open, IReadOnlyList<long> releases)
    {
        if (releases.Count == 0)
        {
            throw new ArgumentException("There are no releases; allowed is one or more.", nameof(releases));
        }

        this.open = open;
        this.releases = [.. releases];
        origin = releases[0];
        openAtRelease = new double[releases.Count];
        for (int i = 0; i < releases.Count; i++)
        {
            if (i > 0 && releases[i] < releases[i - 1])
            {
                throw new ArgumentException($"Release {i} is {releases[i]}, before {releases[i - 1]}; allowed is an ascending order.", nameof(releases));
            }

            openAtRelease[i] = open.OpenBetween(origin, releases[i]);
        }
    }

    /// <summary>How many batches arrive.</summary>
    public int Count => releases.Length;

    /// <summary>Open time from the first release to the end of the last work.</summary>
    /// <param name="work">Work of each batch, in clock units of one reference server; 0 or more.</param>
    /// <param name="speed">Reference servers at work, above 0.</param>
    /// <param name="tail">Open time from the end of the fluid to the end of the last task; see <see cref="FluidTail"/>.</param>
    /// <param name="longestTask">The longest task of the last batch on one server: nothing can end before it has run.</param>
    /// <returns>Infinite where the speed is 0 and there is work.</returns>
    public double Span(ReadOnlySpan<double> work, double speed, double tail = 0, double longestTask = 0)
    {
        Guard.InRange(work.Length, releases.Length, releases.Length, "count of batches");
        double done = 0;
        double lastOpen = 0;
        double perWork = 1 / speed;
        for (int i = 0; i < work.Length; i++)
        {
            double amount = work[i];
            if (amount > 0)
            {
                lastOpen = openAtRelease[i];
                done = Math.Max(done, lastOpen) + (amount * perWork);
            }
        }

        return done == 0 ? 0 : Math.Max(done + tail, lastOpen + longestTask);
    }

    /// <summary>The instant at which so much time has been open since the first release; null where the windows end first.</summary>
    /// <param name="span">Open time, 0 or more; parts of a clock unit count as a whole one.</param>
    public long? At(double span) => double.IsFinite(span) && span < long.MaxValue / 4 ? open.Advance(origin, (long)Math.Ceiling(span)) : null;

    /// <summary>When all work is done; null where the windows end first.</summary>
    /// <param name="work">Work of each batch.</param>
    /// <param name="speed">Reference servers at work, above 0.</param>
    /// <param name="tail">Open time from the end of the fluid to the end of the last task.</param>
    /// <param name="longestTask">The longest task of the last batch.</param>
    public long? Finish(ReadOnlySpan<double> work, double speed, double tail = 0, double longestTask = 0) =>
        At(Span(work, speed, tail, longestTask));

    /// <summary>When each batch is done as a fluid, so that what it makes can be laid on a curve; a batch without work is done when it arrives.</summary>
    /// <param name="work">Work of each batch.</param>
    /// <param name="speed">Reference servers at work, above 0.</param>
    /// <param name="finishes">Where the answers go, one a batch; <see cref="long.MaxValue"/> where the windows end first.</param>
    public void FinishEach(ReadOnlySpan<double> work, double speed, Span<long> finishes)
    {
        Guard.InRange(work.Length, releases.Length, releases.Length, "count of batches");
        Guard.InRange(finishes.Length, releases.Length, int.MaxValue, "count of finishes");
        double done = 0;
        for (int i = 0; i < work.Length; i++)
        {
            if (work[i] > 0)
            {
                done = Math.Max(done, openAtRelease[i]) + (work[i] / speed);
                finishes[i] = At(done) ?? long.MaxValue;
            }
            else
            {
                finishes[i] = releases[i];
            }
        }
    }
}
