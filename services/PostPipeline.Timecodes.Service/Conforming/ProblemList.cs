using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.Manifests;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>Problems of all files of a call.</summary>
internal sealed class ProblemList
{
    private const int Most = 10_000;

    private readonly List<Wire.FileProblem> listed = [];

    /// <summary>Whether any file could not be understood.</summary>
    public bool HasErrors { get; private set; }

    public IReadOnlyList<Wire.FileProblem> Listed => listed;

    public void Add(Wire.FileProblem problem)
    {
        HasErrors |= problem.IsError;
        if (listed.Count < Most)
        {
            listed.Add(problem);
        }
    }

    public void Add(Wire.ConformFile file, IEnumerable<EditListProblem> problems)
    {
        foreach (EditListProblem problem in problems)
        {
            Add(new() { File = file, Line = problem.Line, Column = problem.Column, IsError = problem.IsError, Message = problem.Message });
        }
    }

    public void Add(Wire.ConformFile file, IEnumerable<InventoryProblem> problems)
    {
        foreach (InventoryProblem problem in problems)
        {
            Add(new() { File = file, Line = problem.Line, Column = problem.Column, Field = problem.Field, IsError = true, Message = problem.Message });
        }
    }

    public void Add(Wire.ConformFile file, IEnumerable<ManifestProblem> problems)
    {
        foreach (ManifestProblem problem in problems)
        {
            Add(new() { File = file, Line = problem.Line, Column = problem.Column, IsError = true, Message = problem.Message });
        }
    }
}
