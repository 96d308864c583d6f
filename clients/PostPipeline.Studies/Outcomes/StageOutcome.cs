namespace PostPipeline.Studies.Outcomes;

/// <summary>A stage over all draws.</summary>
/// <param name="Name">The stage.</param>
/// <param name="Resource">Who or what does it.</param>
/// <param name="Start">Its start, s on the study's clock.</param>
/// <param name="Finish">Its finish.</param>
/// <param name="CriticalShare">In which share of draws it stood on the chain that set the delivery.</param>
public sealed record StageOutcome(string Name, string Resource, Range Start, Range Finish, double CriticalShare);
