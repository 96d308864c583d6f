namespace PostPipeline.Studies.Stages;

/// <summary>Lasts a while of real time, whoever works.</summary>
internal sealed class ElapsedStage(string name, string resource, int tag, Func<Scope, double> seconds, params int[] after) : Stage(name, resource, tag, after)
{
    public override long Finish(Scope scope, int self, long start)
    {
        long from = Tag >= 0 ? start + (long)(scope.Delay[Tag] * Calendar.Day) : start;
        scope.Start[self] = from;
        scope.Busy[self] = 0;
        return from >= Calendar.Never ? Calendar.Never : from + (long)seconds(scope);
    }
}
