using System.Collections.Immutable;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>Counts what was found in each combination of behaviours, by camera and cause.</summary>
internal sealed class FindingLedger(RehearsalPlan plan)
{
    private readonly Dictionary<(int Camera, RehearsalCause Cause), Entry> entries = [];
    private readonly int[] causesOfTake = new int[plan.Takes.Length];

    // Of the combination at hand: takes and events by camera and cause.
    private readonly Dictionary<(int Camera, RehearsalCause Cause), int> eventsNow = [];
    private readonly HashSet<(int Camera, RehearsalCause Cause)> seenNow = [];

    /// <summary>A take that would break in the combination at hand.</summary>
    public void Take(int take, RehearsalCause cause)
    {
        causesOfTake[take] |= 1 << (int)cause;
        seenNow.Add((plan.Takes[take].Camera, cause));
    }

    /// <summary>An event of a take that would break in the combination at hand.</summary>
    public void Event(int take, RehearsalCause cause)
    {
        Take(take, cause);
        (int, RehearsalCause) key = (plan.Takes[take].Camera, cause);
        eventsNow[key] = eventsNow.GetValueOrDefault(key) + 1;
    }

    /// <summary>Ends a combination.</summary>
    /// <param name="behaviours">Words for the behaviour of a camera in it.</param>
    public void CloseCombination(Func<int, string> behaviours)
    {
        foreach ((int Camera, RehearsalCause Cause) key in seenNow)
        {
            if (!entries.TryGetValue(key, out Entry? entry))
            {
                entries.Add(key, entry = new());
            }

            entry.Combinations++;
            entry.Events = Math.Max(entry.Events, eventsNow.GetValueOrDefault(key));
            string words = behaviours(key.Camera);
            if (words.Length > 0)
            {
                entry.Behaviours.Add(words);
            }
        }

        seenNow.Clear();
        eventsNow.Clear();
    }

    /// <summary>Turns the counts of a group of cameras into findings.</summary>
    /// <param name="combinations">How many combinations were tried for the group.</param>
    /// <param name="findings">Where they go.</param>
    public void CloseGroup(int combinations, List<RehearsalFinding> findings)
    {
        foreach (((int cameraPlace, RehearsalCause cause), Entry entry) in entries.OrderBy(e => e.Key.Camera).ThenBy(e => e.Key.Cause))
        {
            RehearsalCamera camera = plan.Cameras[cameraPlace];
            (long takes, int firstDay) = Concerned(cameraPlace, cause);
            string behaviours = entry.Behaviours.Count == 0 ? string.Empty : "where " + string.Join(" or ", entry.Behaviours.Order(StringComparer.Ordinal));
            findings.Add(new(
                cause,
                entry.Combinations == combinations,
                true,
                camera.Name,
                firstDay,
                takes,
                entry.Events,
                RehearsalText.Describe(cause, camera, plan, behaviours),
                RehearsalText.Remedy(cause, camera, plan)));
        }

        entries.Clear();
    }

    private (long Takes, int FirstDay) Concerned(int camera, RehearsalCause cause)
    {
        long count = 0;
        int firstDay = int.MaxValue;
        for (int i = 0; i < causesOfTake.Length; i++)
        {
            if (plan.Takes[i].Camera == camera && (causesOfTake[i] & (1 << (int)cause)) != 0)
            {
                count++;
                firstDay = Math.Min(firstDay, plan.Takes[i].Day);
            }
        }

        return (count, count == 0 ? -1 : firstDay);
    }

    private sealed class Entry
    {
        public int Combinations { get; set; }

        public int Events { get; set; }

        public HashSet<string> Behaviours { get; } = new(StringComparer.Ordinal);
    }
}
