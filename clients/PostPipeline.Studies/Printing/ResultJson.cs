using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Derivations;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.Printing;

/// <summary>
/// A comparison for machines. It holds no times of the run, no paths and no machines, and numbers with nine significant
/// digits, so that the same question gives the same bytes wherever it is computed.
/// </summary>
public static class ResultJson
{
    /// <summary>The name of the result's shape, with its version.</summary>
    public const string Schema = "postpipeline.comparison/1";

    /// <summary>How the result is written to a file.</summary>
    public static JsonSerializerOptions Indented { get; } = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The comparison as JSON.</summary>
    /// <param name="comparison">The comparison.</param>
    /// <param name="why">Also the trees behind this number; null for none.</param>
    public static JsonObject Of(Comparison comparison, string? why = null)
    {
        JsonObject result = Of(comparison);
        if (why is not null)
        {
            result["why_" + why] = new JsonArray([.. new Why(comparison).Of(why).Select(d => (JsonNode)Tree(d))]);
        }

        return result;
    }

    private static JsonObject Tree(Derivation derivation) => new()
    {
        ["name"] = derivation.Name,
        ["value"] = derivation.Value,
        ["formula"] = derivation.Formula,
        ["substituted"] = derivation.Substituted,
        ["source"] = derivation.Source,
        ["known"] = derivation.Known?.ToString().ToLowerInvariant(),
        ["inputs"] = new JsonArray([.. derivation.Inputs.Select(i => (JsonNode)Tree(i))]),
    };

    private static JsonObject Of(Comparison comparison)
    {
        StudyModel model = comparison.Model;
        Brief brief = model.Study.Brief;
        return new()
        {
            ["title"] = brief.Title,
            ["currency"] = brief.Currency,
            ["seed"] = brief.Seed,
            ["draws"] = comparison.Evaluation.Draws,
            ["first_shoot_day"] = brief.Shoot.Starts.ToString("uuuu-MM-dd", null),
            ["due"] = model.Clock.Text(model.Due),
            ["preferred"] = comparison.Preferred,
            ["why"] = comparison.Why,
            ["tied_with"] = new JsonArray([.. Preference.Ties(brief, comparison.Pipelines).Select(t => (JsonNode)t)]),
            ["shoot"] = new JsonObject
            {
                ["bytes_per_day_mean"] = Number(comparison.BytesPerDay.Mean),
                ["bytes_per_day_most"] = Number(comparison.BytesPerDay.Most),
                ["bytes"] = Range(comparison.Bytes),
                ["takes"] = model.Study.Takes.Count,
                ["latest_offload_end_seconds"] = Number(comparison.LatestOffloadEnd),
                ["latest_offload_day"] = comparison.LatestOffloadDay + 1,
                ["recordings"] = new JsonArray([.. model.Study.Recordings.Select(r => (JsonNode)Recording(brief, r))]),
                ["findings"] = Findings(comparison.Findings),
            },
            ["pipelines"] = new JsonArray([.. comparison.Pipelines.Select(p => (JsonNode)Pipeline(model, p))]),
            ["pairs"] = new JsonArray([.. comparison.Pairs.Select(p => (JsonNode)new JsonObject
            {
                ["first"] = p.First,
                ["second"] = p.Second,
                ["before"] = Number(p.Before.Share),
                ["together"] = Number(p.Together.Share),
                ["cheaper"] = Number(p.Cheaper.Share),
            })]),
            ["margins"] = new JsonArray([.. comparison.Margins.Select(m => (JsonNode)new JsonObject { ["name"] = m.Name, ["value"] = m.Value, ["on"] = m.On })]),
            ["inputs"] = Inputs(model),
            ["left_out"] = new JsonArray([.. brief.LeftOut.Select(l => (JsonNode)l)]),
            ["render_times"] = new JsonObject
            {
                ["source"] = model.Study.Model.Source,
                ["invented"] = model.Study.Model.Invented,
                ["jobs_on_invented_rows"] = new JsonArray([.. model.Study.Jobs.Where(j => j.Invented).Select(j => (JsonNode)$"{j.Kind} {j.Mode}".TrimEnd())]),
                ["validated_domain"] = model.Study.Model.ValidatedDomain,
                ["held_out_median_percent"] = Number(model.Study.Model.HeldOutMedianPercent),
            },
        };
    }

    private static JsonObject Recording(Brief brief, RecordingFacts facts) => new()
    {
        ["camera"] = brief.Shoot.Cameras[facts.Camera].Letter,
        ["mode"] = brief.Shoot.Cameras[facts.Camera].Recordings[facts.Recording].Mode.Name,
        ["kind"] = facts.Kind,
        ["bytes_per_frame"] = facts.BytesPerFrame,
        ["needed_bytes_per_second"] = Number(facts.NeededBytesPerSecond),
        ["ceiling_bytes_per_second"] = Number(facts.CeilingBytesPerSecond),
        ["burst_seconds"] = Number(facts.BurstSeconds),
    };

    private static JsonObject Pipeline(StudyModel model, PipelineOutcome p) => new()
    {
        ["name"] = p.Name,
        ["admissible"] = p.Admissible,
        ["delivery"] = Dates(model, p.Delivery),
        ["delivery_if_lock_holds"] = Dates(model, p.DeliveryIfLockHolds),
        ["on_time"] = Chance(p.OnTime),
        ["on_time_if_lock_holds"] = Chance(p.OnTimeIfLockHolds),
        ["farm_finish"] = p.HasFarmStage ? Dates(model, p.FarmFinish) : null,
        ["online_peak_bytes"] = Range(p.OnlinePeak),
        ["nearline_peak_bytes"] = Range(p.NearlinePeak),
        ["cost"] = Range(p.Cost),
        ["node_hours"] = Range(p.NodeHours),
        ["person_hours"] = Range(p.PeopleHours),
        ["latest_shoot_start_days"] = p.LatestShootStartDays,
        ["latest_farm_start"] = p.LatestFarmStart is { } start ? model.Clock.Text(start) : null,
        ["latest_lock_days"] = p.LatestLockDays,
        ["binding_limit"] = p.Binding?.Name,
        ["next_limit"] = p.Next?.Name,
        ["gates"] = new JsonArray([.. p.Gates.Select(g => (JsonNode)new JsonObject
        {
            ["name"] = g.Name,
            ["state"] = g.State switch { GateState.Passes => "passes", GateState.Fails => "fails", _ => "unknown" },
            ["margin"] = double.IsNaN(g.Margin) ? null : Number(g.Margin),
            ["says"] = g.Says,
        })]),
        ["stages"] = new JsonArray([.. p.Stages.Select(s => (JsonNode)new JsonObject
        {
            ["name"] = s.Name,
            ["resource"] = s.Resource,
            ["start"] = Dates(model, s.Start),
            ["finish"] = Dates(model, s.Finish),
            ["critical_share"] = Number(s.CriticalShare),
        })]),
        ["costs"] = new JsonArray([.. p.Costs.Select(c => (JsonNode)new JsonObject
        {
            ["name"] = c.Name,
            ["payer"] = c.Payer,
            ["amount"] = Range(c.Amount),
            ["unit"] = c.Unit,
            ["money"] = Range(c.Money),
            ["price_invented"] = c.PriceInvented,
        })]),
        ["payers"] = new JsonArray([.. p.Payers.Select(y => (JsonNode)new JsonObject
        {
            ["payer"] = y.Payer,
            ["money"] = Range(y.Money),
            ["mean"] = Number(y.Mean),
            ["price_invented"] = y.PriceInvented,
        })]),
        ["cost_mean"] = Number(p.CostMean),
        ["generations"] = new JsonArray([.. p.Generations.Select(g => (JsonNode)new JsonObject { ["name"] = g.Name, ["tier"] = g.Tier, ["payer"] = g.Payer, ["bytes"] = Range(g.Bytes) })]),
        ["quality"] = new JsonArray([.. p.Quality.Select(q => (JsonNode)new JsonObject { ["name"] = q.Name, ["value"] = q.Value, ["unit"] = q.Unit })]),
        ["findings"] = Findings(p.Findings),
    };

    private static JsonObject Inputs(StudyModel model)
    {
        JsonObject counts = [];
        foreach (Known known in Enum.GetValues<Known>().Where(k => k != Known.Unspecified))
        {
            counts[known.ToString().ToLowerInvariant()] = model.Study.Brief.Inputs.Count(i => i.Known == known);
        }

        return counts;
    }

    private static JsonArray Findings(IEnumerable<Finding> findings) =>
        new([.. findings.Select(f => (JsonNode)new JsonObject { ["name"] = f.Name, ["says"] = f.Says, ["remedy"] = f.Remedy })]);

    private static JsonObject Chance(Probability p) => new() { ["share"] = Number(p.Share), ["standard_error"] = Number(p.StandardError) };

    private static JsonObject Range(Outcomes.Range range) => new() { ["p10"] = Number(range.P10), ["p50"] = Number(range.P50), ["p90"] = Number(range.P90) };

    private static JsonObject Dates(StudyModel model, Outcomes.Range range) => new()
    {
        ["p10"] = model.Clock.Text(range.P10),
        ["p50"] = model.Clock.Text(range.P50),
        ["p90"] = model.Clock.Text(range.P90),
    };

    private static JsonValue? Number(double value) =>
        double.IsFinite(value) ? JsonValue.Create(double.Parse(value.ToString("G9", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)) : null;
}
