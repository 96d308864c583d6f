using NodaTime;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>Reads a brief. Every problem of the file is found in one reading, each with its place and what is allowed.</summary>
public static class BriefReader
{
    /// <summary>Reads a brief from a file.</summary>
    /// <param name="path">A UTF-8 YAML file of at most 1 MB.</param>
    /// <exception cref="BriefException">The file cannot be used.</exception>
    public static Brief ReadFile(string path) => Read(path, BriefText.Read(path));

    /// <summary>Reads a brief from its text.</summary>
    /// <param name="file">What to call the file in messages.</param>
    /// <param name="text">YAML.</param>
    /// <exception cref="BriefException">The text cannot be used.</exception>
    public static Brief Read(string file, string text)
    {
        BriefContext context = new(file);
        Section top = new(context, string.Empty, YamlTree.Read(file, text), BriefKeys.Top);
        top.Whole("brief", 1);
        string production = top.Choice("production", "feature");
        ProductionDefaults defaults = ProductionDefaults.For(production);

        IReadOnlyList<Card> cards = BriefMaterial.Cards(top);
        IReadOnlyList<CaptureMode> modes = BriefMaterial.Modes(top);
        EditPlan edit = Edit(top.Map("edit"), defaults);
        ShootPlan shoot = BriefMaterial.Shoot(top.Map("shoot"), modes, cards, edit.Lock, defaults);
        DeliverPlan deliver = Deliver(top.Map("deliver"));
        Brief brief = new(
            top.Text("title", "Untitled"),
            production,
            top.Currency("currency", "XXX"),
            top.Zone("time_zone"),
            top.Whole("seed", 1),
            top.Number("confidence", 0.9),
            top.Choices("prefer", "cost P50", "delivery P90"),
            top.Choices("pipelines", "native", "transcode", "proxy"),
            shoot,
            modes,
            BriefMeans.Offload(top.Map("offload")),
            BriefMeans.Storage(top.Map("storage")),
            BriefMeans.Seats(top.Map("seats")),
            BriefMeans.Farm(top.Map("farm")),
            BriefMeans.Mezzanine(top.Map("mezzanine")),
            BriefMeans.Proxies(top.Map("proxies")),
            edit,
            Finish(top, edit, deliver, defaults),
            deliver,
            BriefMeans.People(top.Map("people")),
            BriefMeans.Events(top),
            [])
        {
            Viewing = BriefMeans.Viewing(top),
            HasTurnovers = BriefMeans.Turnovers(top),
            Effects = BriefMeans.Effects(top),
        };
        BriefMeans.Prices(top.Map("prices"), brief.Effects is not null);
        brief = brief with { Inputs = [.. context.Inputs] };
        BriefChecks.Check(context, top, brief);
        return context.Problems.Count == 0 ? brief : throw new BriefException([.. context.Problems.Distinct().OrderBy(p => p.Line).ThenBy(p => p.Column)]);
    }

    // Each item and each round is three stages of every pipeline.
    private const int MostOfAList = 40;
    private static readonly string[] InsteadOfRounds = ["review_rounds", "review"];

    private static EditPlan Edit(Section edit, ProductionDefaults defaults)
    {
        EditPlan plan = new(edit.Seconds("finished", 3600), edit.Date("lock") ?? new LocalDate(2100, 1, 1), edit.Number("tracks", 1));
        edit.Estimate("lock_slip", 0, 4, 14);
        (double low, double likely, double high) = defaults.DaysAfterMaterial;
        edit.Estimate("after_material", low, likely, high);
        (low, likely, high) = defaults.EventsPerMinute;
        edit.Estimate("events_per_minute", low, likely, high);
        return plan;
    }

    private static DeliverPlan Deliver(Section deliver)
    {
        DeliverPlan plan = new(
            deliver.Date("due") ?? new LocalDate(2199, 12, 31),
            deliver.Raster("raster", Raster.From(3840, 2160)),
            (int)deliver.Whole("depth", 10),
            [.. deliver.Maps("items").Select(s => new Deliverable(
                s.Text("name", "deliverable"), s.Estimate("render", 0.15, 0.3, 0.6), s.Estimate("check", 1.5, 2, 3), s.Size("size", DataSize.Zero)))],
            deliver.Rate("link", DataRate.FromBitsPerSecond(200_000_000)),
            [.. deliver.Maps("rounds").Select(s => new ReviewRound(
                s.Number("chance", 0), s.Estimate("days", 1, 2, 4), s.Estimate("render", 0.02, 0.1, 0.3), s.Estimate("check", 0.5, 1, 2)))]);
        if (plan.Rounds.Count == 0)
        {
            deliver.Estimate("review_rounds", 0.5, 1, 2);
            deliver.Estimate("review", 1, 2, 4);
        }

        foreach (string key in InsteadOfRounds.Where(k => plan.Rounds.Count > 0 && deliver.Has(k)))
        {
            deliver.Problem(key, "either 'rounds', each with its chance, or 'review_rounds' and 'review' are expected, not both");
        }

        if (plan.Items.Count > MostOfAList || plan.Rounds.Count > MostOfAList)
        {
            deliver.Problem(plan.Items.Count > MostOfAList ? "items" : "rounds", $"more than {MostOfAList} stand here; allowed is at most {MostOfAList}");
        }

        return plan;
    }

    private static FinishPlan Finish(Section top, EditPlan edit, DeliverPlan deliver, ProductionDefaults defaults)
    {
        top.Estimate("caches", 0.05, 0.15, 0.25);
        top.Estimate("selects", 0.1, 0.2, 0.25);
        Section finish = top.Map("finish");
        double hours = edit.FinishedSeconds / 3600;
        finish.Estimate("sync", 0.3, 0.45, 0.6);
        finish.Constant("hand_over", 8);
        finish.Estimate("clean_events", 40, 75, 120);
        finish.Estimate("problem_event", 8, 14, 20);
        finish.Estimate("problem_share", 0.005, 0.02, 0.05);
        (double low, double likely, double high) = defaults.GradingHoursPerFinishedHour;
        finish.Estimate("grade", low * hours, likely * hours, high * hours);
        finish.Estimate("quality_check", 1.5, 2, 3);
        FinishPlan plan = new((int)finish.Whole("handles", 16), (int)finish.Whole("versions", 2), (int)finish.Number("noise_reduction", 1));

        // A master with three values a pixel at 24 frames a second, kept in 1, 1.5 and 2 generations.
        double master = edit.FinishedSeconds * 24 * deliver.Raster.Pixels * 3 * deliver.Depth / 8;
        finish.Estimate("renders", master, 1.5 * master, 2 * master);
        return plan;
    }
}
