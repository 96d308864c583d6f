namespace PostPipeline.Studies.Stages;

/// <summary>The shoot with its offload: finished when the last day's material is where post works.</summary>
internal sealed class ShootStage() : Stage("shoot and offload", "offload", StageTags.None)
{
    public override long Finish(Scope scope, int self, long start)
    {
        scope.Start[self] = scope.Ready.Length > 0 ? scope.Ready[0] + scope.ShootDelay : 0;
        return scope.Ready.Length > 0 ? scope.Ready[^1] + scope.ShootDelay : 0;
    }
}
