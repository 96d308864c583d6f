using PostPipeline.Quantities;

namespace PostPipeline.Flows;

/// <summary>
/// The speed at which many servers together do work, and what sets it. Speed counts reference servers: work is measured in
/// clock units of one of them.
/// </summary>
/// <param name="Nodes">Sum of the servers' speeds.</param>
/// <param name="Licences">Speed of as many servers as there are licences; infinite where none are needed.</param>
/// <param name="Storage">Speed that storage can feed; infinite where it does not limit.</param>
public readonly record struct FluidCapacity(double Nodes, double Licences = double.PositiveInfinity, double Storage = double.PositiveInfinity)
{
    /// <summary>The least of the three.</summary>
    public double Speed => Math.Min(Nodes, Math.Min(Licences, Storage));

    /// <summary>The one that is least; among equals nodes, then licences.</summary>
    public FluidLimit Limit =>
        Nodes <= Licences && Nodes <= Storage ? FluidLimit.Nodes : Licences <= Storage ? FluidLimit.Licences : FluidLimit.Storage;

    /// <summary>The capacity of equal servers.</summary>
    /// <param name="servers">How many, 0 or more.</param>
    /// <param name="speed">Speed of each against the reference, above 0.</param>
    /// <param name="licences">How many may run at once; null for all.</param>
    /// <param name="storageBytes">Bytes per clock unit that storage moves; null where it does not limit.</param>
    /// <param name="bytesPerWork">Bytes read and written per unit of work; 0 where none move.</param>
    public static FluidCapacity Of(int servers, double speed = 1, int? licences = null, double? storageBytes = null, double bytesPerWork = 0)
    {
        Guard.InRange(servers, 0, int.MaxValue);
        Guard.Finite(speed, 1e-9, 1e9);
        return new(
            servers * speed,
            licences is int held ? Guard.InRange(held, 0, int.MaxValue) * speed : double.PositiveInfinity,
            storageBytes is double moved && bytesPerWork > 0 ? Guard.Finite(moved, 0, 1e18) / bytesPerWork : double.PositiveInfinity);
    }
}
