namespace PostPipeline.Slates.Checking;

/// <summary>A time in which more is due of a resource than there is: no order of work can help.</summary>
/// <param name="Level">P50 or P90.</param>
/// <param name="Resource">The resource.</param>
/// <param name="Unit">The unit of the amounts.</param>
/// <param name="From">The half-day from which the work can be done.</param>
/// <param name="Until">The half-day by which it is due.</param>
/// <param name="Inside">Work that lies wholly within.</param>
/// <param name="Capacity">What can be done within.</param>
/// <param name="Hit">The projects whose work it is, the least priority first.</param>
public sealed record CapacityBreak(
    string Level, string Resource, string Unit, int From, int Until, double Inside, double Capacity, IReadOnlyList<string> Hit)
{
    /// <summary>How much is missing.</summary>
    public double Missing => Inside - Capacity;
}
