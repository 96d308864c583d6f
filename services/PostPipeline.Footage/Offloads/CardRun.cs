namespace PostPipeline.Footage.Offloads;

/// <summary>One card's way from camera to ready again, in microseconds of the simulation's clock.</summary>
/// <param name="Card">The card as it was pulled.</param>
/// <param name="Station">The station that copied it.</param>
/// <param name="ArrivedMicroseconds">When it lay at the stations.</param>
/// <param name="StartedMicroseconds">When its station began.</param>
/// <param name="CopiedMicroseconds">When the last copy was written.</param>
/// <param name="VerifiedMicroseconds">When the last copy was checked.</param>
/// <param name="DoneMicroseconds">When it was looked at too.</param>
/// <param name="ReadyMicroseconds">When it lies at the camera again; holds included.</param>
public readonly record struct CardRun(
    CardArrival Card, int Station, long ArrivedMicroseconds, long StartedMicroseconds, long CopiedMicroseconds, long VerifiedMicroseconds, long DoneMicroseconds, long ReadyMicroseconds)
{
    /// <summary>How long it waited for a station.</summary>
    public long WaitMicroseconds => StartedMicroseconds - ArrivedMicroseconds;
}
