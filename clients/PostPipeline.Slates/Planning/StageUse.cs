namespace PostPipeline.Slates.Planning;

/// <summary>What a stage holds from its start to its end.</summary>
/// <param name="Resource">Name of the resource.</param>
/// <param name="Amount">Units, 0 or more.</param>
public sealed record StageUse(string Resource, long Amount);
