namespace PostPipeline.Studies.Stages;

/// <summary>
/// The edit: at least so many days after the last material, and not before the lock date, which holds or slips. Lock
/// slip is an input of its own because it outweighs most others. Its days are calendar days.
/// </summary>
internal sealed class EditStage(StudyClock clock, Func<Scope, double> lockAt, Func<Scope, double> slipDays, Func<Scope, double> daysAfterMaterial, params int[] after)
    : Stage("edit to lock", "editors", StageTags.Edit, after)
{
    public override long Finish(Scope scope, int self, long start)
    {
        long from = start + (long)(scope.Delay[Tag] * Calendar.Day);
        scope.Start[self] = scope.Ready.Length > 0 ? Math.Min(scope.Ready[0], from) : from;
        scope.Busy[self] = 0;
        if (from >= Calendar.Never)
        {
            return Calendar.Never;
        }

        long locked = (long)clock.Later(lockAt(scope), scope.LockSlips ? slipDays(scope) : 0);
        long material = (long)clock.Later(from, daysAfterMaterial(scope));
        scope.LockDecides = locked >= material;
        return Math.Max(locked, material);
    }
}
