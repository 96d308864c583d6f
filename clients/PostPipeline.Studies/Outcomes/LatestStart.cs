using PostPipeline.Studies.Inputs;

namespace PostPipeline.Studies.Outcomes;

/// <summary>The last responsible dates: the latest shoot start, farm start and lock date with which the date gate still passes.</summary>
internal sealed class LatestStart(StudyModel model, DrawSet draws, IReadOnlyList<Change> moved)
{
    private readonly double confidence = model.Study.Brief.Confidence;

    /// <summary>Whole days that the shoot may start later; null where the gate fails as planned.</summary>
    public int? ShootDays(int pipeline, CancellationToken cancellation)
    {
        if (!OnTime(pipeline, [], cancellation))
        {
            return null;
        }

        (int fits, int fails) = (0, 400);
        while (fails - fits > 1)
        {
            int middle = (fits + fails) / 2;
            if (OnTime(pipeline, [Change.Plus("shoot.slip", middle)], cancellation))
            {
                fits = middle;
            }
            else
            {
                fails = middle;
            }
        }

        return fits;
    }

    /// <summary>The last moment, to the hour, at which the farm may start; null where the gate fails as planned.</summary>
    public double? FarmStart(int pipeline, CancellationToken cancellation)
    {
        if (!OnTime(pipeline, [], cancellation))
        {
            return null;
        }

        (double fits, double fails) = (0, model.Due);
        while (fails - fits > 3600)
        {
            double middle = (fits + fails) / 2;
            if (OnTime(pipeline, [Change.Fix("farm.starts", middle)], cancellation))
            {
                fits = middle;
            }
            else
            {
                fails = middle;
            }
        }

        return Math.Floor(fits / 3600) * 3600;
    }

    /// <summary>Whole days that the lock may be planned later, or must be planned earlier where negative; null where no lock date helps.</summary>
    public int? LockDays(int pipeline, CancellationToken cancellation)
    {
        (int fits, int fails) = (-1000, 1000);
        if (!OnTime(pipeline, [Change.Plus("edit.lock", fits)], cancellation))
        {
            return null;
        }

        while (fails - fits > 1)
        {
            int middle = (fits + fails) / 2;
            if (OnTime(pipeline, [Change.Plus("edit.lock", middle)], cancellation))
            {
                fits = middle;
            }
            else
            {
                fails = middle;
            }
        }

        return fits;
    }

    private bool OnTime(int pipeline, IReadOnlyList<Change> changes, CancellationToken cancellation)
    {
        Change[] all = [.. moved, .. changes];
        double[] delivered = model.Deliveries(draws, all, [pipeline], cancellation)[pipeline];
        return Probability.AtMost(delivered, model.DueUnder(all)).Share >= confidence;
    }
}
