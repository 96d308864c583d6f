using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Notebooks.Comparisons;

/// <summary>What a person moves in a comparison, against the brief; as it stands here it changes nothing.</summary>
/// <param name="MaterialPercent">Recorded hours, % of the brief's; the shooting ratio moves with them.</param>
/// <param name="LockSlipPercent">Days by which the lock slips, % of the brief's.</param>
/// <param name="LockDays">Days by which the lock is planned later; negative for earlier.</param>
/// <param name="DueDays">Days by which the delivery is due later; negative for earlier.</param>
/// <param name="MoreNodes">Nodes added to the farm's first class; negative takes away, down to none.</param>
/// <param name="MoreAssistants">Assistants added; negative takes away, down to one.</param>
/// <param name="OnlinePercent">Usable online storage, % of the brief's.</param>
/// <param name="Confidence">How sure the date must be, above 0 to below 1; null for the brief's.</param>
public sealed record ComparisonMoves(
    double MaterialPercent = 100,
    double LockSlipPercent = 100,
    double LockDays = 0,
    double DueDays = 0,
    int MoreNodes = 0,
    int MoreAssistants = 0,
    double OnlinePercent = 100,
    double? Confidence = null)
{
    /// <summary>How sure a date must be, from the words of a list: "90 %"; null for anything else.</summary>
    /// <param name="words">The words.</param>
    public static double? Sure(string words) =>
        words.EndsWith(" %", StringComparison.Ordinal) && double.TryParse(words[..^2], System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out double percent) && percent is > 0 and < 100
            ? percent / 100
            : null;

    /// <summary>The changes to the brief's inputs; what is not moved is not named.</summary>
    /// <param name="brief">The brief.</param>
    public IReadOnlyList<Change> Changes(Brief brief)
    {
        List<Change> changes = [];
        void Scaled(string input, double percent)
        {
            if (percent != 100)
            {
                changes.Add(Change.Scale(input, percent / 100));
            }
        }

        if (MaterialPercent != 100)
        {
            changes.AddRange(brief.Shoot.Material(MaterialPercent / 100));
        }

        Scaled("edit.lock_slip", LockSlipPercent);
        Scaled("storage.online.usable", OnlinePercent);
        if (LockDays != 0)
        {
            changes.Add(Change.Plus("edit.lock", LockDays));
        }

        if (DueDays != 0)
        {
            changes.Add(Change.Plus("deliver.due", DueDays));
        }

        if (MoreNodes != 0 && brief.Farm.Nodes is [{ } first, ..])
        {
            changes.Add(Change.Fix($"farm.nodes.{first.Name}", Math.Max(0, first.Count + MoreNodes)));
        }

        if (MoreAssistants != 0)
        {
            changes.Add(Change.Fix("people.assistants", Math.Max(1, brief.People.Assistants + MoreAssistants)));
        }

        return changes;
    }
}
