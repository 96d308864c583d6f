using PostPipeline.Flows;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// Works on each day's material once that day has arrived, in order, through its windows: the fluid model of one queue.
/// </summary>
internal sealed class StreamStage(
    string name, string resource, int tag, Windows windows, Func<Scope, int, double> workOfDay, Func<Scope, double> rate, FarmResidual? residual, int notBefore, params int[] after)
    : Stage(name, resource, tag, after)
{
    public override long Finish(Scope scope, int self, long start)
    {
        double speed = rate(scope);
        long delay = scope.ShootDelay + (Tag >= 0 ? (long)(scope.Delay[Tag] * Calendar.Day) : 0);
        long earliest = notBefore >= 0 ? (long)scope.X[notBefore] : long.MinValue;
        long time = long.MinValue;
        long last = 0;
        double busy = 0;
        long[] ready = scope.Ready;
        for (int day = 0; day < ready.Length; day++)
        {
            double work = workOfDay(scope, day);
            if (work <= 0)
            {
                continue;
            }

            busy += work;
            long arrived = last = Math.Max(ready[day] + delay, earliest);
            if (time == long.MinValue)
            {
                scope.Start[self] = arrived;
            }

            time = speed > 0 ? Walk(windows, Math.Max(time, arrived), work / speed) : Calendar.Never;
            if (time >= Calendar.Never)
            {
                break;
            }
        }

        scope.Busy[self] = busy;
        if (time == long.MinValue)
        {
            return scope.Start[self] = start;
        }

        return residual is null || time >= Calendar.Never ? time : residual.Apply(windows, last, time, scope.FarmLuck);
    }
}
