using System.Collections.Immutable;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>A cut matched against an inventory.</summary>
/// <param name="Cut">The cut.</param>
/// <param name="Inventory">The inventory.</param>
/// <param name="Options">How it was matched.</param>
/// <param name="Matches">One answer for each event, in order.</param>
public sealed record ConformResult(Cut Cut, Inventory Inventory, ConformOptions Options, ImmutableArray<EventMatch> Matches)
{
    /// <summary>How many events came to a class.</summary>
    /// <param name="value">The class.</param>
    public int Count(ConformClass value)
    {
        int count = 0;
        foreach (EventMatch match in Matches)
        {
            count += match.Class == value ? 1 : 0;
        }

        return count;
    }

    /// <summary>How many events a person must look at.</summary>
    public int EventsForPerson
    {
        get
        {
            int count = 0;
            foreach (EventMatch match in Matches)
            {
                count += match.NeedsPerson ? 1 : 0;
            }

            return count;
        }
    }
}
