namespace PostPipeline.Notebooks.Charts;

/// <summary>Something shared, by day: what each project takes of it, and how much there is.</summary>
/// <param name="Name">What is shared, for example "tall nodes".</param>
/// <param name="Unit">The unit, for example "node-hours a day".</param>
/// <param name="FirstDay">The first day.</param>
/// <param name="Series">One for each project, in the same order in every panel.</param>
/// <param name="Capacity">How much there is on each day; null where it is not limited.</param>
public sealed record LoadPanel(string Name, string Unit, DateOnly FirstDay, IReadOnlyList<LoadSeries> Series, IReadOnlyList<double>? Capacity)
{
    /// <summary>How many days it has.</summary>
    public int Days => Series.Select(s => s.Values.Count).Append(Capacity?.Count ?? 0).Max();

    /// <summary>What all projects take on a day.</summary>
    /// <param name="day">The day, from 0.</param>
    public double Total(int day) => Series.Sum(s => day < s.Values.Count ? s.Values[day] : 0);
}
