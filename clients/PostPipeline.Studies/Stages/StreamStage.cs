using PostPipeline.Flows;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// Works on each day's material once that day has arrived, in order, through its windows: the fluid model of one queue.
/// </summary>
internal sealed class StreamStage(
    string name, string resource, int tag, Windows windows, Func<Scope, int, double> workOfDay, Func<Scope, double> rate, FarmResidual? residual, int notBefore, params int[] after)
    : Stage(name, resource, tag, after)
{
    /// <summary>Place of the streaming stage whose days it takes up as they are done; −1 for the shoot's.</summary>
    public int From { get; init; } = -1;

    public override long Finish(Scope scope, int self, long start)
    {
        double speed = rate(scope);
        long delay = (From < 0 ? scope.ShootDelay : 0) + (Tag >= 0 ? (long)(scope.Delay[Tag] * Calendar.Day) : 0);
        long earliest = notBefore >= 0 ? (long)scope.X[notBefore] : long.MinValue;
        long time = long.MinValue;
        long last = 0;
        double busy = 0;
        int near = -1;
        long[] ready = From < 0 ? scope.Ready : scope.DayDone[From];
        long[]? done = KeepsDays ? scope.DayDone[self] : null;
        for (int day = 0; day < ready.Length; day++)
        {
            double work = workOfDay(scope, day);
            if (work <= 0)
            {
                done?[day] = Math.Max(time, ready[day] + delay);
                continue;
            }

            busy += work;
            long arrived = last = Math.Max(ready[day] + delay, earliest);
            if (time == long.MinValue)
            {
                scope.Start[self] = arrived;
            }

            time = speed > 0 && arrived < Calendar.Never ? Walk(windows, Math.Max(time, arrived), work / speed, ref near) : Calendar.Never;
            if (time >= Calendar.Never)
            {
                done?.AsSpan(day).Fill(Calendar.Never);
                break;
            }

            done?[day] = time;
        }

        scope.Busy[self] = busy;
        if (time == long.MinValue)
        {
            return scope.Start[self] = start;
        }

        long finish = residual is null || time >= Calendar.Never ? time : residual.Apply(windows, last, time, scope.FarmLuck);
        done?[^1] = Math.Max(done[^1], finish);
        return finish;
    }
}
