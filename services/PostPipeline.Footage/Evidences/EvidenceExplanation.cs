using PostPipeline.Quantities;

namespace PostPipeline.Footage.Evidences;

/// <summary>The tree behind the foot of a sheet: how many facts are open, and which.</summary>
public static class EvidenceExplanation
{
    /// <summary>Explains a sheet.</summary>
    /// <param name="sheet">The sheet.</param>
    public static Derivation Of(EvidenceSheet sheet)
    {
        int absent = sheet.Open.Count(f => f.State == EvidenceState.Absent);
        int unknown = sheet.Open.Count - absent;
        return new()
        {
            Name = $"open facts of {(sheet.Subject.Length > 0 ? sheet.Subject : "the sheet")}",
            Formula = "absent + unknown; one alone means do not clear, and with none a named person still decides",
            Substituted = $"{absent} + {unknown} of {sheet.Facts.Count}",
            Value = sheet.Open.Count.ToString(),
            Source = "common practice, no source",
            BindingLimit = sheet.Open.Count > 0 ? sheet.Open[0].Fact : "the decision of a named person",
            NextLimit = sheet.Open.Count > 1 ? sheet.Open[1].Fact : sheet.Open.Count == 1 ? "the decision of a named person" : string.Empty,
            Inputs =
            [
                .. sheet.Facts.Select(f => f.State == EvidenceState.Unknown
                    ? Derivation.Input(f.Fact, "unknown", source: "nobody has said")
                    : Derivation.Input(f.Fact, f.State == EvidenceState.Present ? "present" : "absent", source: "as stated")),
            ],
        };
    }
}
