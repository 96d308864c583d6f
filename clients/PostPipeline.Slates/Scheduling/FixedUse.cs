namespace PostPipeline.Slates.Scheduling;

/// <summary>A part of a resource that is not to be had for a while: maintenance, leave, other work.</summary>
/// <param name="Use">What is taken away.</param>
/// <param name="From">First slot.</param>
/// <param name="Until">Slot after the last.</param>
public readonly record struct FixedUse(ResourceUse Use, int From, int Until);
