using System.Collections.Immutable;

namespace PostPipeline.RenderTimes;

/// <summary>An import under way. Disposing it without a commit leaves nothing behind.</summary>
public interface IBenchmarkImport : IDisposable
{
    /// <summary>What was wrong with the rows so far.</summary>
    IReadOnlyList<RowViolation> Violations { get; }

    /// <summary>Checks and keeps one row; false where something is wrong with it.</summary>
    /// <param name="cells">A cell for each column.</param>
    bool Add(IReadOnlyList<string> cells);

    /// <summary>Makes the set visible, wholly.</summary>
    /// <exception cref="InvalidOperationException">A row was wrong, or there is none.</exception>
    BenchmarkSetInfo Commit();
}
