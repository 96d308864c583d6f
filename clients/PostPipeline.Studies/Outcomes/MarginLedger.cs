using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Studies.Outcomes;

/// <summary>Every margin in an answer, by name, once. The same margin twice is an error, because then nobody knows what is left.</summary>
public sealed class MarginLedger
{
    private readonly List<Margin> margins = [];

    /// <summary>The margins.</summary>
    public IReadOnlyList<Margin> Margins => margins;

    /// <summary>Writes a margin down.</summary>
    /// <param name="name">Its name, not yet in the ledger.</param>
    /// <param name="value">Its value, for print.</param>
    /// <param name="on">What it is put on.</param>
    /// <exception cref="InvalidOperationException">The margin stands in the ledger already.</exception>
    public MarginLedger Add(string name, string value, string on)
    {
        if (margins.Any(m => m.Name == name))
        {
            throw new InvalidOperationException($"The margin '{name}' would be put on twice.");
        }

        margins.Add(new(name, value, on));
        return this;
    }

    /// <summary>The margins of a brief's answer.</summary>
    /// <param name="brief">The brief.</param>
    public static MarginLedger Of(Brief brief)
    {
        MarginLedger ledger = new MarginLedger()
            .Add("write ceiling", string.Join(", ", brief.Shoot.Cameras.Select(c => $"{c.Card.Name} × {Numbers.Three(c.Card.Trust)}").Distinct()), "the rated write rate of cards")
            .Add("confidence", Numbers.Percent(brief.Confidence), "the date; sizing for a probability takes no factor on top")
            .Add("sharing protocol", "× 0.9", "links of seats")
            .Add("headroom", "× 0.7", "links of seats and the array's read rate");
        if (brief.Storage.Online.Capacity is not null)
        {
            ledger.Add("online space kept free", Numbers.Percent(brief.Storage.Online.Free), "the online tier")
                .Add("online redundancy", $"÷ {Numbers.Three(brief.Storage.Online.Redundancy)}", "the online tier");
        }

        if (brief.Storage.Nearline.Capacity is not null)
        {
            ledger.Add("nearline space kept free", Numbers.Percent(brief.Storage.Nearline.Free), "the nearline tier")
                .Add("nearline redundancy", $"÷ {Numbers.Three(brief.Storage.Nearline.Redundancy)}", "the nearline tier");
        }

        if (brief.Storage.TapeCopies > 0)
        {
            ledger.Add("tape fill", Numbers.Percent(brief.Storage.TapeFill), "the native size of a tape");
        }

        return ledger;
    }
}
