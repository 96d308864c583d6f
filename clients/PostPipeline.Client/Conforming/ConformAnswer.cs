using PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Client.Conforming;

/// <summary>The parts of a conform's answer, put together.</summary>
/// <param name="Problems">Problems of the files.</param>
/// <param name="Summary">The summary.</param>
/// <param name="Events">Events, those that need a person or all.</param>
/// <param name="Pull">Ranges to pull.</param>
/// <param name="Changes">Changes since the older cut.</param>
/// <param name="Files">Written pull lists by name.</param>
public sealed record ConformAnswer(
    IReadOnlyList<FileProblem> Problems,
    ConformSummary Summary,
    IReadOnlyList<EventRow> Events,
    IReadOnlyList<PullRow> Pull,
    IReadOnlyList<ChangeRow> Changes,
    IReadOnlyDictionary<string, byte[]> Files);
