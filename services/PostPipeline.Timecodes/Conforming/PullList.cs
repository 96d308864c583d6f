using System.Collections.Immutable;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>The ranges of originals that a cut needs, with handles, ordered by medium.</summary>
/// <param name="Inventory">The inventory that the ranges point into.</param>
/// <param name="Ranges">Ordered by medium, then by row, then by frame; ranges of one file do not meet.</param>
/// <param name="Planned">What the list amounts to.</param>
/// <param name="IfTrimmed">What it would amount to if every file could be trimmed.</param>
/// <param name="IfWhole">What it would amount to if every file were pulled whole.</param>
/// <param name="Media">Tapes, cards or drives to fetch; files without a medium are left out.</param>
/// <param name="EventsLeftOut">Events whose pictures were not found, so that the list does not hold them.</param>
public sealed record PullList(
    Inventory Inventory,
    ImmutableArray<PullRange> Ranges,
    PullTotals Planned,
    PullTotals IfTrimmed,
    PullTotals IfWhole,
    ImmutableArray<string> Media,
    int EventsLeftOut)
{
    /// <summary>Makes the pull list of a matched cut.</summary>
    /// <param name="result">The matched cut; its options say the handles.</param>
    /// <param name="options">Gap and treatment of files that may not be trimmed; null for the defaults.</param>
    public static PullList Of(ConformResult result, PullOptions? options = null)
    {
        List<WantedRange> wanted = new(result.Matches.Length);
        int leftOut = 0;
        foreach (EventMatch match in result.Matches)
        {
            if (match.HasPictures)
            {
                wanted.Add(new(match.Row, new(match.Need.First - match.HandleBefore, match.Need.Frames + match.HandleBefore + match.HandleBehind)));
            }
            else if (match.Class != ConformClass.NotSought)
            {
                leftOut++;
            }
        }

        return PullPlanner.Plan(result.Inventory, wanted, leftOut, options ?? new());
    }
}
