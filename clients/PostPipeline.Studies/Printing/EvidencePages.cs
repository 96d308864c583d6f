using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.Printing;

/// <summary>Sheets on which a named human notes what is there before something is cleared or deleted. They never say that it is safe.</summary>
internal static class EvidencePages
{
    public static IReadOnlyList<Page> Release(Comparison comparison) => [Of(
        comparison,
        "Release evidence of a card",
        ["camera, card", "shoot day", "from", "to"],
        [
            $"verify level reached: {comparison.Model.Study.Brief.Offload.Verify}; cache bypassed", "every file in the manifest, none of zero length", "copies equal", "copies on two physical devices", "one copy elsewhere",
            "clip count and minutes agree with the report", "every chunk of every clip there", "pictures looked at, the last ones too", "post confirms in writing", "hold period over",
        ],
        "This sheet never says that a card is safe to clear. A named human decides; any unknown means: do not clear.")];

    public static IReadOnlyList<Page> Purge(Comparison comparison) => [Of(
        comparison,
        "Purge evidence of a generation",
        ["generation, tier", "owner", "from", "to"],
        ["generation and its owner named", "remakeable from (which generation)", "that generation found and read", "archive verified", "delivery accepted in writing", "contract's retention over", "nobody works on it"],
        "This sheet never says that a generation is safe to delete. A named human decides; any unknown means: do not delete.")];

    private static Page Of(Comparison comparison, string title, string[] what, string[] items, string caution) =>
        new Page(title, comparison.Model.Study.Brief.Title)
            .Table(what, [["", "", "", ""]])
            .Table(["item", "present", "absent", "unknown", "seen by, at"], items.Select(i => (string[])[i, "", "", "", ""]), "ticks")
            .Text(caution)
            .Table(["name", "date and time", "signature"], [["", "", ""], ["", "", ""]], "signatures");
}
