using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>What the numbers of a list say about its frame rate, which the list itself does not state.</summary>
/// <param name="HighestFrameNumber">The highest frame number of any label; −1 in a list without events.</param>
/// <param name="HighestFrameNumberLine">The line on which it stands first.</param>
/// <param name="CountsDropFrame">Whether any line counts drop-frame.</param>
/// <param name="CountsNonDrop">Whether any line states non-drop.</param>
public sealed record EditListNumbers(int HighestFrameNumber, int HighestFrameNumberLine, bool CountsDropFrame, bool CountsNonDrop)
{
    private static readonly FrameRate[] UsualRates =
    [
        FrameRate.Fps24000Over1001, FrameRate.Fps24, FrameRate.Fps25, FrameRate.Fps30000Over1001, FrameRate.Fps30,
        FrameRate.From(48000, 1001), FrameRate.From(48, 1), FrameRate.From(50, 1), FrameRate.From(60000, 1001), FrameRate.From(60, 1),
        FrameRate.From(120000, 1001), FrameRate.From(120, 1),
    ];

    /// <summary>The lowest nominal rate at which every frame number exists.</summary>
    public int SmallestNominalRate => HighestFrameNumber + 1;

    /// <summary>Of the rates in general use, those that the numbers allow.</summary>
    public IEnumerable<FrameRate> UsualRatesAllowed => UsualRates.Where(Allows);

    /// <summary>Looks through a list.</summary>
    /// <param name="list">The list.</param>
    public static EditListNumbers Of(EditList list)
    {
        int highest = -1;
        int line = 0;
        bool drop = false;
        bool nonDrop = false;
        foreach (EditEvent item in list.Events)
        {
            int frames = Math.Max(Math.Max(item.SourceIn.Frames, item.SourceOut.Frames), Math.Max(item.RecordIn.Frames, item.RecordOut.Frames));
            if (frames > highest)
            {
                (highest, line) = (frames, item.Line);
            }

            drop |= item.Mode == FrameCodeMode.Drop || item.SourceIn.Semicolon || item.RecordIn.Semicolon;
            nonDrop |= item.Mode == FrameCodeMode.NonDrop;
        }

        return new(highest, line, drop, nonDrop);
    }

    /// <summary>Whether every label can exist at a rate.</summary>
    /// <param name="rate">The rate.</param>
    public bool Allows(FrameRate rate) => rate.Nominal >= SmallestNominalRate && (!CountsDropFrame || TimecodeFormat.AllowsDropFrame(rate));
}
