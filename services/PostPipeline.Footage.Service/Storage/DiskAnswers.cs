using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Footage.Stores;
using PostPipeline.Quantities;
using Tier = PostPipeline.Footage.Stores.Tier;

namespace PostPipeline.Footage.Service.Storage;

/// <summary>Reads sets of drives and writes what can be planned from them.</summary>
internal static class DiskAnswers
{
    public static DiskPlan? Answer(DiskItem item, ItemProblems problems, bool explain)
    {
        problems.Label(item.Label);
        problems.InRange("drives", item.Drives, 1, 100_000);
        problems.InRange("drive_bytes", item.DriveBytes, 1, long.MaxValue / 100_000);
        problems.InRange("data_drives", item.DataDrives, 1, 1000);
        problems.InRange("parity_drives", item.ParityDrives, 0, 1000);
        problems.InRange("spare_drives", item.SpareDrives, 0, Math.Max(0, item.Drives));
        problems.InRange("rebuild_bytes_per_second", item.RebuildBytesPerSecond, 0, 1e12);
        Rational free = problems.Fraction("free", item.Free, 0, new(999, 1000), Tier.DefaultFree);
        if (!problems.None)
        {
            return null;
        }

        DiskSet set = DiskSet.From(item.Drives, DataSize.FromBytes(item.DriveBytes), item.DataDrives, item.ParityDrives, item.SpareDrives, free);
        return new()
        {
            Groups = set.Groups,
            RawBytes = set.Raw.Bytes,
            UsableBytes = set.Usable.Bytes,
            PlannableBytes = set.Plannable.Bytes,
            CostFactor = set.CostFactor.ToDouble(),
            Derivation = explain ? Wire.Of(DiskExplanation.Of(set)) : null,
            RebuildHours = item.RebuildBytesPerSecond < 1 ? 0 : set.RebuildSeconds(DataRate.FromBytesPerSecond((long)item.RebuildBytesPerSecond)).ToDouble() / 3600,
        };
    }
}
