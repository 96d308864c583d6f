namespace PostPipeline.Slates.Scheduling;

/// <summary>Which slots are worked. Work of d slots that starts in slot s ends when d open slots have passed.</summary>
public sealed class SlotCalendar
{
    private readonly int[] openSlots;
    private readonly int[] openBefore;

    /// <summary>Creates a calendar.</summary>
    /// <param name="open">For each slot of the horizon, whether it is worked.</param>
    public SlotCalendar(IReadOnlyList<bool> open)
    {
        openSlots = [.. Enumerable.Range(0, open.Count).Where(slot => open[slot])];
        openBefore = new int[open.Count + 1];
        for (int slot = 0; slot < open.Count; slot++)
        {
            openBefore[slot + 1] = openBefore[slot] + (open[slot] ? 1 : 0);
        }
    }

    /// <summary>Slots of the horizon.</summary>
    public int Slots => openBefore.Length - 1;

    /// <summary>Open slots of the horizon.</summary>
    public int OpenSlots => openSlots.Length;

    /// <summary>Whether a slot is worked.</summary>
    /// <param name="slot">A slot of the horizon.</param>
    public bool IsOpen(int slot) => openBefore[slot + 1] > openBefore[slot];

    /// <summary>The first open slot from a slot on, or <see cref="Slots"/> where there is none.</summary>
    /// <param name="slot">A slot, 0 to <see cref="Slots"/>.</param>
    public int NextOpen(int slot) => openBefore[slot] < openSlots.Length ? openSlots[openBefore[slot]] : Slots;

    /// <summary>Open slots before a slot.</summary>
    /// <param name="slot">A slot, 0 to <see cref="Slots"/>.</param>
    public int OpenBefore(int slot) => openBefore[slot];

    /// <summary>The latest start from which work ends by a slot, or null where there is none.</summary>
    /// <param name="end">The slot after the last, 0 to <see cref="Slots"/>.</param>
    /// <param name="duration">Open slots of work, 0 or more.</param>
    public int? LatestStart(int end, int duration)
    {
        if (duration == 0)
        {
            return end;
        }

        int first = openBefore[end] - duration;
        return first >= 0 ? openSlots[first] : null;
    }

    /// <summary>The slot after the last one worked, or null where the calendar ends before the work does.</summary>
    /// <param name="start">First slot, 0 to <see cref="Slots"/>.</param>
    /// <param name="duration">Open slots of work, 0 or more.</param>
    public int? End(int start, int duration)
    {
        if (duration == 0)
        {
            return start;
        }

        int last = openBefore[start] + duration - 1;
        return last < openSlots.Length ? openSlots[last] + 1 : null;
    }
}
