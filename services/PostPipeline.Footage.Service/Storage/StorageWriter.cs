using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Footage.Stores;

namespace PostPipeline.Footage.Service.Storage;

/// <summary>Writes tiers over time.</summary>
internal static class StorageWriter
{
    public static TierOccupancy Write(TierPlan plan, bool explain)
    {
        TierOccupancy message = new()
        {
            Tier = plan.Tier.Name,
            PeakBytes = plan.Curve.PeakBytes,
            PeakSeconds = plan.Curve.PeakInstant,
            ToBuyBytes = plan.ToBuyBytes,
            EndBytes = plan.Curve.FinalBytes,
        };
        foreach ((long instant, long before, long after) in plan.Curve.Corners)
        {
            message.Points.Add(new OccupancyPoint { AtSeconds = instant, Bytes = before });
            if (after != before)
            {
                message.Points.Add(new OccupancyPoint { AtSeconds = instant, Bytes = after });
            }
        }

        Set(plan.AlarmSeconds, value => message.AlarmSeconds = value);
        Set(plan.StopIngestSeconds, value => message.StopIngestSeconds = value);
        Set(plan.FullSeconds, value => message.FullSeconds = value);
        Set(plan.SpareBytes, value => message.SpareBytes = value);
        message.AtPeak.AddRange(plan.AtPeak.Select(p => new GenerationShare { Label = p.Generation.Name, Bytes = p.Bytes }));
        if (explain)
        {
            message.Derivation = Wire.Of(StorageExplanation.Of(plan));
        }

        return message;
    }

    private static void Set(long? value, Action<long> set)
    {
        if (value is { } known)
        {
            set(known);
        }
    }
}
