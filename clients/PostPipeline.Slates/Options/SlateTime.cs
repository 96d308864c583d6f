using NodaTime;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Slates.Options;

/// <summary>Seconds of a slate as half-days of its clock, in local time.</summary>
public sealed class SlateTime
{
    /// <summary>Weeks after the slate's own in which late work may end.</summary>
    public const int WeeksAfter = 12;

    private readonly StudyClock clock;

    /// <summary>Creates the clock.</summary>
    /// <param name="slate">The slate.</param>
    public SlateTime(Slate slate)
    {
        clock = new(slate.Zone, slate.Starts);
        Clock = new(slate.Starts, (slate.Weeks + WeeksAfter) * 14);
    }

    /// <summary>The clock of half-days.</summary>
    public SlateClock Clock { get; }

    /// <summary>The half-day in which a moment lies, kept inside the clock.</summary>
    /// <param name="seconds">On the slate's clock.</param>
    public int Slot(double seconds)
    {
        if (!(seconds < Clock.Slots * 43_200.0))
        {
            return Clock.Slots;
        }

        LocalDateTime local = clock.Local(Math.Max(0, seconds));
        return Clock.FirstSlotOf(local.Date) + (local.Hour >= 12 ? 1 : 0);
    }

    /// <summary>The half-day after the last one that a moment needs.</summary>
    /// <param name="seconds">On the slate's clock.</param>
    public int EndSlot(double seconds) => seconds <= 0 ? 0 : Math.Min(Clock.Slots, Slot(seconds - 1) + 1);
}
