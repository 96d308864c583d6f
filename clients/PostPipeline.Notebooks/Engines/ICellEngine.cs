namespace PostPipeline.Notebooks.Engines;

/// <summary>Runs cells one after the other; a later cell sees what an earlier one declared. The one seam between us and whatever compiles C#.</summary>
public interface ICellEngine : IDisposable
{
    /// <summary>Runs a cell. Outputs and the error that ended it go to the sink of the context, in order.</summary>
    /// <param name="code">The code.</param>
    /// <param name="cell">Its number from 1, for messages.</param>
    /// <param name="context">What surrounds it.</param>
    /// <returns>Whether it ended without an error.</returns>
    Task<bool> RunAsync(string code, int cell, CellContext context);
}
