namespace PostPipeline.Footage.Evidences;

/// <summary>
/// Facts before a human clears a card or deletes a generation. The sheet shows what is present, absent or unknown; it
/// never says that anything is safe, and whoever decides signs with their name.
/// </summary>
public sealed class EvidenceSheet
{
    /// <summary>The facts of a card's release.</summary>
    public static readonly IReadOnlyList<string> ReleaseFacts =
    [
        "verify level that was asked for reached, caches bypassed",
        "every file of the manifest there, none of zero length",
        "copies equal",
        "copies on two physical devices",
        "one copy elsewhere",
        "clip count and minutes agree with the camera report",
        "chunks of every take complete",
        "pictures looked at",
        "post confirms arrival",
        "hold period over",
    ];

    /// <summary>The facts of a generation's purge.</summary>
    public static readonly IReadOnlyList<string> PurgeFacts =
    [
        "generation and owner named",
        "remakeable, and from what",
        "archive written and verified",
        "archive readable by a drive at hand",
        "delivery accepted",
        "retention period over",
        "no project still refers to it",
    ];

    private readonly (string Fact, EvidenceState State)[] facts;

    private EvidenceSheet(string subject, (string Fact, EvidenceState State)[] facts) => (Subject, this.facts) = (subject, facts);

    /// <summary>The card or generation.</summary>
    public string Subject { get; }

    /// <summary>Every fact with its state.</summary>
    public IReadOnlyList<(string Fact, EvidenceState State)> Facts => facts;

    /// <summary>Facts that are not present: each one alone means do not clear.</summary>
    public IReadOnlyList<(string Fact, EvidenceState State)> Open => [.. facts.Where(f => f.State != EvidenceState.Present)];

    /// <summary>What the sheet says at its foot.</summary>
    public string Foot => Open.Count > 0
        ? $"Do not clear: {Open.Count(f => f.State == EvidenceState.Absent)} absent, {Open.Count(f => f.State == EvidenceState.Unknown)} unknown of {facts.Length} facts."
        : "All facts listed are present. A named person decides and signs; this sheet does not.";

    /// <summary>A sheet for a card.</summary>
    /// <param name="card">Its label.</param>
    /// <param name="states">What is known, by the words of <see cref="ReleaseFacts"/>; what is not named is unknown.</param>
    public static EvidenceSheet ForRelease(string card, IReadOnlyDictionary<string, EvidenceState> states) => Of(card, ReleaseFacts, states);

    /// <summary>A sheet for a generation.</summary>
    /// <param name="generation">Its name.</param>
    /// <param name="states">What is known, by the words of <see cref="PurgeFacts"/>; what is not named is unknown.</param>
    public static EvidenceSheet ForPurge(string generation, IReadOnlyDictionary<string, EvidenceState> states) => Of(generation, PurgeFacts, states);

    private static EvidenceSheet Of(string subject, IReadOnlyList<string> facts, IReadOnlyDictionary<string, EvidenceState> states)
    {
        foreach (string unknown in states.Keys.Where(k => !facts.Contains(k)))
        {
            throw new ArgumentException($"'{unknown}' is not a fact of this sheet; allowed are {string.Join("; ", facts)}.", nameof(states));
        }

        return new(subject, [.. facts.Select(f => (f, states.GetValueOrDefault(f)))]);
    }
}
