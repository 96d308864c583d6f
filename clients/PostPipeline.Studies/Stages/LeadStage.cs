namespace PostPipeline.Studies.Stages;

/// <summary>
/// Begins some time before what it waits for is finished, though not before other stages are: plates are pulled from a
/// cut that is nearly locked.
/// </summary>
internal sealed class LeadStage(string name, string resource, Func<Scope, double> lead, int[] notBefore, Func<Scope, double> seconds, params int[] after)
    : Stage(name, resource, StageTags.None, after)
{
    public override long Finish(Scope scope, int self, long start)
    {
        scope.Busy[self] = 0;
        long earliest = 0;
        foreach (int stage in notBefore)
        {
            earliest = Math.Max(earliest, scope.Finish[stage]);
        }

        long from = start >= Calendar.Never ? start : Math.Min(start, Math.Max(earliest, start - (long)lead(scope)));
        scope.Start[self] = from;
        double lasts = seconds(scope);
        return from >= Calendar.Never || !(lasts < Calendar.Never) ? Calendar.Never : from + (long)Math.Ceiling(lasts);
    }
}
