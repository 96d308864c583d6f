using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>Frames of a take that an event of the synthetic cut shows.</summary>
internal readonly record struct SyntheticEvent(int Take, long FirstFrame, long Frames);

/// <summary>Invents a cut: events spread over all takes, somewhere in each, with room for handles where there is any.</summary>
internal static class SyntheticCut
{
    private const int LongestEventSeconds = 6;

    public static SyntheticEvent[] Of(RehearsalPlan plan)
    {
        RandomStream random = new(plan.Seed, RandomPurpose.Rehearsal);
        SyntheticEvent[] events = new SyntheticEvent[plan.Takes.IsEmpty ? 0 : plan.Events];
        long longest = (long)plan.ProjectFormat.Nominal * LongestEventSeconds;
        for (int i = 0; i < events.Length; i++)
        {
            // Evenly over the takes, so that a thousand events look at a thousand of ten thousand takes on all days.
            int take = (int)(((i + random.NextUnit()) * plan.Takes.Length / events.Length) % plan.Takes.Length);
            long frames = plan.Takes[take].Frames;
            long room = Math.Max(1, frames - (2L * plan.HandleFrames));
            long length = 1 + random.NextBelow((int)Math.Min(room, longest));
            long slack = Math.Max(0, frames - length - (2L * plan.HandleFrames));
            long first = Math.Min(frames - length, plan.HandleFrames) + random.NextBelow((int)Math.Min(slack + 1, int.MaxValue));
            events[i] = new(take, Math.Min(first, frames - length), length);
        }

        return events;
    }
}
