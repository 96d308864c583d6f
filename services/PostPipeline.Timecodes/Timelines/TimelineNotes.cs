namespace PostPipeline.Timecodes.Timelines;

/// <summary>What was found on the way through a timeline: problems up to a limit, and schemas without a meaning here.</summary>
internal sealed class TimelineNotes
{
    private const int MostProblems = 1_000;

    private readonly List<TimelineProblem> problems = [];

    /// <summary>The problems.</summary>
    public IReadOnlyList<TimelineProblem> Problems => problems;

    /// <summary>The schemas that have no meaning here.</summary>
    public SortedSet<string> Unknown { get; } = new(StringComparer.Ordinal);

    /// <summary>Notes a problem.</summary>
    public void Report(string path, bool isError, string message)
    {
        if (problems.Count < MostProblems)
        {
            problems.Add(new(path, isError, message));
        }
    }
}
