namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>Finds takes with one key that hold a label in common, in one sweep over all takes.</summary>
internal static class SharedLabels
{
    /// <summary>A stretch of labels of a take; Until may lie beyond the label day.</summary>
    public readonly record struct Stretch(int Take, int Key, TimecodeFormat Format, long From, long Until);

    /// <summary>Calls back with pairs of takes that share a label: every take that does is named at least once.</summary>
    public static void Find(List<Stretch> stretches, Action<int, int> found)
    {
        List<Stretch> pieces = new(stretches.Count);
        foreach (Stretch stretch in stretches)
        {
            long day = stretch.Format.FramesPerDay;
            long until = Math.Min(stretch.Until, stretch.From + day);
            pieces.Add(stretch with { Until = Math.Min(until, day) });
            if (until > day)
            {
                pieces.Add(stretch with { From = 0, Until = until - day });
            }
        }

        pieces.Sort(static (a, b) =>
            a.Key != b.Key ? a.Key.CompareTo(b.Key)
            : a.From != b.From ? a.From.CompareTo(b.From)
            : a.Take.CompareTo(b.Take));
        int at = 0;
        while (at < pieces.Count)
        {
            // Within a key the take that reaches furthest is enough to find every take that shares a label.
            Stretch reach = pieces[at];
            for (at++; at < pieces.Count && pieces[at].Key == reach.Key; at++)
            {
                if (pieces[at].From < reach.Until && pieces[at].Take != reach.Take)
                {
                    found(reach.Take, pieces[at].Take);
                }

                if (pieces[at].Until > reach.Until)
                {
                    reach = pieces[at];
                }
            }
        }
    }
}
