namespace PostPipeline.Slates.Searching;

/// <summary>An option with times for its tasks, in the order of <see cref="OptionIndex.Tasks"/>.</summary>
internal sealed class Placement(OptionIndex option)
{
    public OptionIndex Option { get; } = option;

    public int[] Start { get; } = new int[option.Tasks.Length];

    public int[] End { get; } = new int[option.Tasks.Length];

    public int[] Mode { get; } = new int[option.Tasks.Length];

    /// <summary>What it adds to the levels by itself; extras are not among it.</summary>
    public long[] Parts { get; } = new long[LevelValues.Count];

    public int FirstSlot => Start.Min();

    public int LastSlot => End.Max();

    /// <summary>Computes <see cref="Parts"/> from the times.</summary>
    public void Count()
    {
        Array.Clear(Parts);
        Parts[LevelValues.Money] = Option.Definition.Cost;
        Parts[LevelValues.Changes] = Option.Definition.Change;
        for (int i = 0; i < Option.Tasks.Length; i++)
        {
            Scheduling.ScheduleTask task = Option.Tasks[i].Definition;
            Parts[LevelValues.Money] += task.Modes[Mode[i]].Cost;
            if (task.Due is int due)
            {
                Parts[LevelValues.Lateness + task.LatenessRank] += Math.Max(0, End[i] - due) * task.LatenessWeight;
            }

            if (task.Deadline is int deadline)
            {
                Parts[LevelValues.Impossible] += Math.Max(0, End[i] - deadline);
            }

            if (task.PlannedStart is int planned)
            {
                Parts[LevelValues.Changes] += Math.Abs(Start[i] - planned);
            }
        }
    }
}
