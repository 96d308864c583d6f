namespace PostPipeline.Slates.Scheduling;

/// <summary>Something that tasks share at the same time: nodes, people of a skill, suites, licences, terabytes.</summary>
/// <param name="Name">A name for reports; unique in a problem.</param>
/// <param name="Capacity">Units there are, 0 or more.</param>
/// <param name="MostExtra">Units that can be rented on top for the whole horizon, 0 or more.</param>
/// <param name="ExtraPrice">Price of one rented unit, in whole currency units, 0 or more.</param>
public sealed record ScheduleResource(string Name, long Capacity, long MostExtra = 0, long ExtraPrice = 0);
