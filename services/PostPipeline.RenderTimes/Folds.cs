using System.Runtime.ExceptionServices;

namespace PostPipeline.RenderTimes;

/// <summary>Cross-validation's folds side by side: each fits on its own rows and writes only the answers of its own families, so that the result does not hang on the number of threads.</summary>
internal static class Folds
{
    /// <summary>Does the work of every fold.</summary>
    /// <param name="count">How many folds.</param>
    /// <param name="work">The work of one fold, by its number from 0.</param>
    /// <param name="cancellation">Ends the work between fits.</param>
    public static void Each(int count, Action<int> work, CancellationToken cancellation)
    {
        Exception?[] problems = new Exception?[count];
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount, CancellationToken = cancellation }, fold =>
        {
            try
            {
                work(fold);
            }
#pragma warning disable CA1031 // Thrown again below as it was, the first fold's first: the same problem at any number of threads.
            catch (Exception problem)
#pragma warning restore CA1031
            {
                problems[fold] = problem;
            }
        });
        if (problems.FirstOrDefault(p => p is not null) is { } first)
        {
            ExceptionDispatchInfo.Throw(first);
        }
    }
}
