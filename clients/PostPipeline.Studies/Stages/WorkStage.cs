using PostPipeline.Flows;

namespace PostPipeline.Studies.Stages;

/// <summary>Starts when all it waits for is there and works through its windows.</summary>
internal sealed class WorkStage(
    string name, string resource, int tag, Windows windows, Func<Scope, double> work, Func<Scope, double> rate, FarmResidual? residual, params int[] after)
    : Stage(name, resource, tag, after)
{
    public override long Finish(Scope scope, int self, long start)
    {
        long from = Tag >= 0 ? start + (long)(scope.Delay[Tag] * Calendar.Day) : start;
        double amount = work(scope);
        scope.Start[self] = from;
        scope.Busy[self] = amount;
        double speed = rate(scope);
        if (amount <= 0)
        {
            return from;
        }

        long end = speed > 0 && from < Calendar.Never ? Walk(windows, from, amount / speed) : Calendar.Never;
        return residual is null || end >= Calendar.Never ? end : residual.Apply(windows, from, end, scope.FarmLuck);
    }
}
