namespace PostPipeline.RenderTimes.Regression;

/// <summary>A predictor is constant or a linear combination of the ones before it, so its coefficient has no value.</summary>
public sealed class DependentColumnsException : Exception
{
    /// <summary>Names the column.</summary>
    /// <param name="column">The position of the first dependent column, from 0.</param>
    public DependentColumnsException(int column)
        : base($"Column {column} is constant or depends linearly on the columns before it; leave it out.") => Column = column;

    /// <summary>The position of the first dependent column, from 0.</summary>
    public int Column { get; }
}
