namespace PostPipeline.Notebooks.Charts;

/// <summary>The chance that one pipeline is on time.</summary>
/// <param name="Name">The pipeline.</param>
/// <param name="IfLockHolds">0 to 1, if the lock date holds.</param>
/// <param name="WithLockSlip">0 to 1, with the slip of the lock date drawn too; null where it is not modelled.</param>
/// <param name="Error">One standard error of the simulation if the lock date holds, 0 to 1.</param>
/// <param name="ErrorWithLockSlip">The same with lock slip.</param>
public sealed record OnTimeBar(string Name, double IfLockHolds, double? WithLockSlip, double Error, double ErrorWithLockSlip);
