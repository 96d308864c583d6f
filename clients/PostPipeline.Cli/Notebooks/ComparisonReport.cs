using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Runs;

namespace PostPipeline.Cli.Notebooks;

/// <summary>The comparison notebook, run for a verb that wants a report beside its tables.</summary>
internal static class ComparisonReport
{
    /// <summary>Runs the notebook.</summary>
    /// <param name="session">The run of the verb.</param>
    /// <param name="brief">The brief; empty for the invented production.</param>
    /// <param name="draws">How many draws.</param>
    public static Task<RunResult> RunAsync(Session session, string brief, int draws)
    {
        Dictionary<string, string> values = new() { ["brief"] = brief, ["draws"] = draws.ToString(CultureInfo.InvariantCulture) };
        return session.ProgressAsync("writing the report", progress => NotebookRunner.Beside(new(session.Services, session.DataFolder)).RunAsync(
            NotebookFile.Inside("compare"),
            new(values, TimeSpan.FromMinutes(10), (cell, total) => progress.Report((cell - 1.0) / total)),
            session.Cancellation));
    }
}
