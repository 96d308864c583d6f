using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Planning;

/// <summary>A resource's outages as uses that cannot be moved.</summary>
internal static class MappedOutages
{
    /// <summary>Overlapping outages add up, but never to more than there is beside what has started: that is not planned away.</summary>
    /// <param name="resource">The resource.</param>
    /// <param name="place">Its place in the scheduling layer.</param>
    /// <param name="slots">Slots of the clock.</param>
    /// <param name="tasks">Tasks that may be done.</param>
    /// <param name="calendars">The calendars that they name.</param>
    public static IEnumerable<FixedUse> Of(SlateResource resource, int place, int slots, IEnumerable<ScheduleTask> tasks, IReadOnlyList<SlotCalendar> calendars)
    {
        long[] there = [.. Enumerable.Repeat(resource.Capacity, slots + 1)];
        foreach (ScheduleTask task in tasks.Where(t => t.FixedStart is not null))
        {
            int start = task.FixedStart!.Value;
            int end = task.Calendar is int calendar ? calendars[calendar].End(Math.Min(start, slots), task.Modes[0].Duration) ?? slots : start + task.Modes[0].Duration;
            for (int slot = start; slot < Math.Min(end, slots); slot++)
            {
                there[slot] -= task.Modes[0].Uses.Where(u => u.Resource == place).Sum(u => u.Amount);
            }
        }

        long[] away = new long[slots + 1];
        foreach (SlateOutage outage in resource.Outages)
        {
            for (int slot = Math.Max(0, outage.From); slot < Math.Min(slots, outage.Until); slot++)
            {
                away[slot] = Math.Min(Math.Max(0, there[slot]), away[slot] + outage.Amount);
            }
        }

        int from = 0;
        for (int slot = 1; slot <= slots; slot++)
        {
            if (slot == slots || away[slot] != away[from])
            {
                if (away[from] > 0)
                {
                    yield return new(new(place, away[from]), from, slot);
                }

                from = slot;
            }
        }
    }
}
