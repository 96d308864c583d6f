namespace PostPipeline.RenderTimes;

/// <summary>
/// Counts the steps of a training: fits, and what is asked of them. They are not equally long, so the part done is a
/// measure of work and not of time. Folds end on several threads; what is told never goes back.
/// </summary>
/// <param name="report">Told how many steps are done, and how many there will be.</param>
/// <param name="expected">How many are expected.</param>
internal sealed class TrainingSteps(Action<int, int>? report, int expected)
{
    private readonly Lock gate = new();
    private int done;

    /// <summary>Steps that nobody is told of.</summary>
    public static TrainingSteps Untold => new(null, 0);

    /// <summary>Steps to come that nobody knew of before.</summary>
    /// <param name="steps">How many.</param>
    public void Expect(int steps)
    {
        lock (gate)
        {
            expected += steps;
        }
    }

    /// <summary>One step is done.</summary>
    public void Done()
    {
        lock (gate)
        {
            done++;
            report?.Invoke(done, Math.Max(done, expected));
        }
    }
}
