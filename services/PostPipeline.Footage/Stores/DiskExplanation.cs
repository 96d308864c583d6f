using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>The tree behind what can be planned from raw disks.</summary>
public static class DiskExplanation
{
    /// <summary>Explains a set.</summary>
    /// <param name="set">The drives.</param>
    public static Derivation Of(DiskSet set) => new()
    {
        Name = "plannable",
        Formula = "usable × (1 − free part)",
        Substituted = $"{set.Usable.Bytes} × (1 − {set.Free})",
        Value = set.Plannable.Bytes.ToString(),
        Unit = "B",
        Margin = set.Free.Sign > 0 ? "free space" : string.Empty,
        Inputs =
        [
            new()
            {
                Name = "usable", Formula = "⌊(drives − spares) ÷ (data + parity)⌋ × data × bytes of a drive", Substituted = $"⌊({set.Drives} − {set.Spares}) ÷ ({set.DataDrives} + {set.ParityDrives})⌋ × {set.DataDrives} × {set.Drive.Bytes}",
                Value = set.Usable.Bytes.ToString(), Unit = "B", Margin = set.ParityDrives > 0 ? "redundancy of the array (it is not a copy)" : string.Empty,
                Inputs = [Derivation.Input("drives", set.Drives.ToString()), Derivation.Input("bytes of a drive", set.Drive.Bytes.ToString(), "B")],
            },
            Derivation.Input("free part", set.Free.ToString(), source: "common practice, no source"),
        ],
    };
}
