namespace PostPipeline.Notebooks.Charts;

/// <summary>A line, with a band where it has a range.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Points">In order of X.</param>
public sealed record BandSeries(string Name, IReadOnlyList<BandPoint> Points)
{
    /// <summary>A line without a range.</summary>
    /// <param name="name">What it is.</param>
    /// <param name="points">In order of X.</param>
    public static BandSeries Line(string name, IEnumerable<(double X, double Y)> points) => new(name, [.. points.Select(p => new BandPoint(p.X, p.Y))]);
}
