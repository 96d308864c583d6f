using NodaTime;

namespace PostPipeline.Studies.Briefs;

/// <summary>What will be shot, on what, delivered when, with which means.</summary>
/// <param name="Title">The production's name.</param>
/// <param name="Production">The kind of production.</param>
/// <param name="Currency">ISO 4217 code; XXX for none.</param>
/// <param name="Zone">The zone of dates and clocks.</param>
/// <param name="Seed">The seed of every random number.</param>
/// <param name="Confidence">How sure the date must be.</param>
/// <param name="Prefer">The order of preference.</param>
/// <param name="Pipelines">The pipelines to compare.</param>
/// <param name="Shoot">What is shot.</param>
/// <param name="Modes">The capture modes.</param>
/// <param name="Offload">How cards are copied.</param>
/// <param name="Storage">Where bytes live.</param>
/// <param name="Seats">Who plays.</param>
/// <param name="Farm">What renders.</param>
/// <param name="Mezzanine">What a transcode pipeline works in.</param>
/// <param name="Proxies">What a proxy pipeline cuts in.</param>
/// <param name="Edit">The cut.</param>
/// <param name="Finish">From lock to master.</param>
/// <param name="Deliver">What is due.</param>
/// <param name="People">Who works.</param>
/// <param name="Events">What may happen.</param>
/// <param name="Inputs">Every uncertain input, by key, in the order of the table of keys.</param>
public sealed record Brief(
    string Title,
    string Production,
    string Currency,
    DateTimeZone Zone,
    long Seed,
    double Confidence,
    IReadOnlyList<string> Prefer,
    IReadOnlyList<string> Pipelines,
    ShootPlan Shoot,
    IReadOnlyList<CaptureMode> Modes,
    OffloadPlan Offload,
    StoragePlan Storage,
    SeatPlan Seats,
    FarmPlan Farm,
    Mezzanine Mezzanine,
    ProxyPlan Proxies,
    EditPlan Edit,
    FinishPlan Finish,
    DeliverPlan Deliver,
    PeoplePlan People,
    IReadOnlyList<NamedEvent> Events,
    IReadOnlyList<Estimate> Inputs)
{
    /// <summary>A look on each day's material and copies to view; null where the brief is silent.</summary>
    public ViewingPlan? Viewing { get; init; }

    /// <summary>Whether the brief speaks of turnovers to effects and sound.</summary>
    public bool HasTurnovers { get; init; }

    /// <summary>Effects plates and versions; null where the brief is silent.</summary>
    public EffectsPlan? Effects { get; init; }

    /// <summary>What no pipeline counts because the brief is silent about it.</summary>
    public IReadOnlyList<string> LeftOut =>
    [
        .. Viewing is null ? ["a look and viewing copies (viewing)"] : Array.Empty<string>(),
        .. HasTurnovers ? Array.Empty<string>() : ["turnovers to effects and sound (turnovers)"],
        .. Effects is null ? ["effects plates and versions (effects)"] : Array.Empty<string>(),
        .. Deliver.Items.Count == 0 ? ["a delivery matrix beside versions of the master (deliver.items)"] : Array.Empty<string>(),
        "archive beyond tapes",
    ];

    /// <summary>The input with a key.</summary>
    /// <param name="key">Such as <c>finish.grade</c>.</param>
    public Estimate Input(string key) =>
        Inputs.FirstOrDefault(i => i.Key == key) ?? throw new ArgumentOutOfRangeException(nameof(key), key, "The brief has no such input.");
}
