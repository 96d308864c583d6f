namespace PostPipeline.Timecodes.EditLists;

/// <summary>What is wrong with a list, and in a strict reading how it deviates from the standard, up to a limit.</summary>
internal sealed class EditListProblems(EditListReadOptions options)
{
    private readonly List<EditListProblem> listed = [];

    /// <summary>The first of them.</summary>
    public IReadOnlyList<EditListProblem> Listed => listed;

    /// <summary>How many were left off.</summary>
    public int LeftOff { get; private set; }

    /// <summary>Notes what cannot be used.</summary>
    public void Add(int line, int column, string message) => Add(line, column, true, message);

    /// <summary>Notes what can be used and yet is not as the standard has it; in a tolerant reading nothing.</summary>
    public void Deviate(int line, int column, string message)
    {
        if (options.Strict)
        {
            Add(line, column, false, message);
        }
    }

    private void Add(int line, int column, bool isError, string message)
    {
        if (listed.Count < options.MaximumProblems)
        {
            listed.Add(new(line, column, isError, message));
        }
        else
        {
            LeftOff++;
        }
    }
}
