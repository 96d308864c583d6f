using System.Collections.Immutable;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>What reading an edit list gave: the list and every problem met, in order of line.</summary>
/// <param name="List">The events that could be read; a line that could not is kept as a statement.</param>
/// <param name="Problems">Errors, and in strict mode deviations.</param>
/// <param name="ProblemsLeftOff">How many further problems were met beyond those listed.</param>
public sealed record EditListReading(EditList List, ImmutableArray<EditListProblem> Problems, int ProblemsLeftOff)
{
    /// <summary>Whether any line could not be understood.</summary>
    public bool HasErrors
    {
        get
        {
            foreach (EditListProblem problem in Problems)
            {
                if (problem.IsError)
                {
                    return true;
                }
            }

            return false;
        }
    }
}
