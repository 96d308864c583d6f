namespace PostPipeline.Studies.Outcomes;

/// <summary>Questions that do not hang on each other, answered side by side.</summary>
internal static class SideBySide
{
    /// <summary>Answers questions on several threads.</summary>
    /// <param name="questions">How many.</param>
    /// <param name="threads">Threads to use.</param>
    /// <param name="answer">Answers one, by its number from 0; writes where no other writes.</param>
    /// <param name="cancellation">Ends the work.</param>
    public static void Each(int questions, int threads, Action<int> answer, CancellationToken cancellation) =>
        Parallel.For(0, questions, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancellation }, answer);
}
