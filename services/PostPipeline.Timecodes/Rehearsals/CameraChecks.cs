namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>What follows from a camera's settings alone: proxies that do not match, clocks that drift.</summary>
internal static class CameraChecks
{
    /// <summary>Whether the proxy of a take is known not to serve, or not known to.</summary>
    public static (bool Fails, bool Unknown) ProxyOf(RehearsalPlan plan, RehearsalTake take)
    {
        RehearsalCamera camera = plan.Cameras[take.Camera];
        if (camera.Proxies == ProxyOrigin.None)
        {
            return (false, false);
        }

        bool? serves = camera.ProxyMatches;
        if (IsAskedOffSpeed(plan, camera, take))
        {
            serves = serves == false || camera.ProxyOffSpeed == false ? false : serves is null || camera.ProxyOffSpeed is null ? null : true;
        }

        return (serves == false, serves is null);
    }

    /// <summary>Findings about proxies and clocks.</summary>
    public static List<RehearsalFinding> Of(RehearsalPlan plan, SyntheticEvent[] events)
    {
        List<RehearsalFinding> findings = [];
        for (int place = 0; place < plan.Cameras.Length; place++)
        {
            RehearsalCamera camera = plan.Cameras[place];
            int at = place;
            if (camera.Proxies != ProxyOrigin.None && camera.ProxyMatches != true)
            {
                Add(plan, events, findings, place, RehearsalCause.ProxyDoesNotMatch, camera.ProxyMatches == false, true, take => take.Camera == at);
            }

            if (camera.Proxies != ProxyOrigin.None && camera.ProxyOffSpeed != true)
            {
                Add(plan, events, findings, place, RehearsalCause.NoProxyOffSpeed, camera.ProxyOffSpeed == false, true, take => take.Camera == at && IsAskedOffSpeed(plan, camera, take));
            }

            if (camera.DriftPartsPerMillion > 0 && SyncHours(plan, place) > RehearsalText.HalfFrameHours(camera))
            {
                Add(plan, [], findings, place, RehearsalCause.ClocksDrift, false, false, take => take.Camera == at);
            }
        }

        return findings;
    }

    private static bool IsAskedOffSpeed(RehearsalPlan plan, RehearsalCamera camera, RehearsalTake take) =>
        camera.Proxies == ProxyOrigin.InCamera && take.SensorRate != plan.ProjectFormat.Rate;

    private static double SyncHours(RehearsalPlan plan, int camera)
    {
        if (plan.Cameras[camera].JamSyncHours > 0)
        {
            return plan.Cameras[camera].JamSyncHours;
        }

        // Never in a day: from the first take of a day to its last.
        Dictionary<int, (double First, double Last)> days = [];
        foreach (RehearsalTake take in plan.Takes)
        {
            if (take.Camera == camera)
            {
                double end = take.StartSeconds + (take.Frames / take.SensorRate.FramesPerSecond.ToDouble());
                (double First, double Last) day = days.GetValueOrDefault(take.Day, (take.StartSeconds, end));
                days[take.Day] = (Math.Min(day.First, take.StartSeconds), Math.Max(day.Last, end));
            }
        }

        return days.Count == 0 ? 0 : days.Values.Max(day => day.Last - day.First) / 3600;
    }

    private static void Add(
        RehearsalPlan plan,
        SyntheticEvent[] events,
        List<RehearsalFinding> findings,
        int camera,
        RehearsalCause cause,
        bool fails,
        bool touchesMatch,
        Func<RehearsalTake, bool> concerns)
    {
        long takes = 0;
        int firstDay = int.MaxValue;
        foreach (RehearsalTake take in plan.Takes)
        {
            if (concerns(take))
            {
                takes++;
                firstDay = Math.Min(firstDay, take.Day);
            }
        }

        if (takes > 0)
        {
            findings.Add(new(
                cause,
                fails,
                touchesMatch,
                plan.Cameras[camera].Name,
                firstDay,
                takes,
                events.Count(e => concerns(plan.Takes[e.Take])),
                RehearsalText.Describe(cause, plan.Cameras[camera], plan, string.Empty),
                RehearsalText.Remedy(cause, plan.Cameras[camera], plan)));
        }
    }
}
