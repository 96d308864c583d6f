namespace PostPipeline.Cli.Frame;

/// <summary>What is true of one run and not of its result.</summary>
/// <param name="Engine">Version of the code that computed.</param>
/// <param name="Services"><c>embedded</c>, or the addresses of the services.</param>
/// <param name="Machine">The machine's name.</param>
/// <param name="StartedAt">Start in UTC.</param>
/// <param name="Seconds">Seconds until the answer.</param>
internal sealed record RunFacts(string Engine, string Services, string Machine, string StartedAt, double Seconds);
