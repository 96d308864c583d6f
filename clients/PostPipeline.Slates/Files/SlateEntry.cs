using NodaTime;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Files;

/// <summary>One project of a slate.</summary>
/// <param name="Name">Its name, unique in the slate.</param>
/// <param name="Brief">Its brief, with the slate's dates put in.</param>
/// <param name="Priority">Weight of a day late, 1 to 100.</param>
/// <param name="Release">The day from which its material comes.</param>
/// <param name="Due">The day on which it is due.</param>
/// <param name="Pipelines">The pipelines that it may take.</param>
/// <param name="PipelinesGiven">Whether the slate itself names them: one that is not proven may then be taken.</param>
/// <param name="Standing">firm, first-hold or second-hold.</param>
/// <param name="Expires">The last day of a hold; null where it is firm.</param>
/// <param name="Running">The pipeline on which it is under way; null where nothing has started.</param>
public sealed record SlateEntry(
    string Name,
    Brief Brief,
    int Priority,
    LocalDate Release,
    LocalDate Due,
    IReadOnlyList<string> Pipelines,
    bool PipelinesGiven,
    string Standing,
    LocalDate? Expires,
    string? Running)
{
    /// <summary>Whether it is sure to come.</summary>
    public bool IsFirm => Standing == "firm";
}
