using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>The values of a plan by level, in order; what must be 0 for a plan to be one stands first.</summary>
internal static class LevelValues
{
    public const int Impossible = 0;
    public const int Lateness = 1;
    public const int Extras = 4;
    public const int Money = 5;
    public const int Changes = 6;
    public const int Count = 7;

    /// <summary>What a choice without a plan counts as, among <see cref="Impossible"/>.</summary>
    public const long NotPlaced = 1_000_000;

    public static int Of(ScheduleLevel level) => level switch
    {
        ScheduleLevel.WeightedLateness => Lateness,
        ScheduleLevel.SecondLateness => Lateness + 1,
        ScheduleLevel.ThirdLateness => Lateness + 2,
        ScheduleLevel.Extras => Extras,
        ScheduleLevel.Money => Money,
        ScheduleLevel.Changes => Changes,
        _ => throw new ArgumentOutOfRangeException(nameof(level), level, "This level has no value by choices."),
    };

    /// <summary>The first level at which two differ, among those that count; −1 where none does.</summary>
    public static int FirstDifference(long[] left, long[] right, bool[] counts)
    {
        for (int level = 0; level < Count; level++)
        {
            if (counts[level] && left[level] != right[level])
            {
                return level;
            }
        }

        return -1;
    }

    public static bool IsLess(long[] left, long[] right, bool[] counts) =>
        FirstDifference(left, right, counts) is >= 0 and int level && left[level] < right[level];
}
