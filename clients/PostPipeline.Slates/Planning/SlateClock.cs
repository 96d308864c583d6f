using NodaTime;

namespace PostPipeline.Slates.Planning;

/// <summary>
/// The clock of a slate: two slots a day, the first until noon, the second until midnight. Slot 0 is the first half of
/// the first day. An end is the slot after the last, so that what is due at the end of a day is due at an even slot.
/// </summary>
/// <param name="Start">The first day.</param>
/// <param name="Slots">Half-days of the horizon, 1 to 7,320 (ten years); every stage ends within it.</param>
public sealed record SlateClock(LocalDate Start, int Slots)
{
    /// <summary>The longest horizon, in half-days.</summary>
    public const int MostSlots = 7320;

    /// <summary>The day in which a slot lies.</summary>
    /// <param name="slot">A slot, which may lie outside the horizon.</param>
    public LocalDate DateOf(int slot) => Start.PlusDays((int)Math.Floor(slot / 2.0));

    /// <summary>Whether a slot is the second half of its day.</summary>
    /// <param name="slot">A slot, which may lie outside the horizon.</param>
    public static bool IsSecondHalf(int slot) => (slot & 1) != 0;

    /// <summary>The first slot of a day.</summary>
    /// <param name="date">A day, which may lie outside the horizon.</param>
    public int FirstSlotOf(LocalDate date) => 2 * Period.DaysBetween(Start, date);

    /// <summary>The slot after a day's last: what a stage ends at that ends with that day.</summary>
    /// <param name="date">A day, which may lie outside the horizon.</param>
    public int EndOf(LocalDate date) => FirstSlotOf(date) + 2;
}
