namespace PostPipeline.Slates.Searching;

/// <summary>How a search works.</summary>
/// <param name="Workers">Threads.</param>
/// <param name="Seed">Seed.</param>
/// <param name="Repeatable">Whether steps are counted instead of seconds.</param>
internal sealed record PlanSearchSettings(int Workers, int Seed, bool Repeatable);
