namespace PostPipeline.Notebooks.Charts;

/// <summary>One stage of one pipeline in time.</summary>
/// <param name="Group">The pipeline.</param>
/// <param name="Stage">The stage.</param>
/// <param name="Start">Its middle start (P50).</param>
/// <param name="End">Its middle end (P50).</param>
/// <param name="LateEnd">Its late end (P90), where there is a range.</param>
/// <param name="Critical">Whether it is usually on the chain that sets the delivery.</param>
public sealed record ScheduleBar(string Group, string Stage, DateTime Start, DateTime End, DateTime? LateEnd = null, bool Critical = false);
