using PostPipeline.Flows;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// How the event simulation differs from the fluid model on the brief's own material: ratios of open farm time from the
/// last release to the finish, one a replication, in ascending order. A draw takes one of them by its luck.
/// </summary>
internal sealed class FarmResidual(double[] ascendingRatios)
{
    public IReadOnlyList<double> Ratios => ascendingRatios;

    public long Apply(Windows windows, long released, long finish, double luck)
    {
        if (ascendingRatios.Length == 0 || finish <= released)
        {
            return finish;
        }

        double ratio = ascendingRatios[(int)(luck * ascendingRatios.Length)];
        long open = windows.OpenBetween(released, finish);
        return windows.Advance(released, (long)Math.Round(open * ratio)) ?? Calendar.Never;
    }
}
