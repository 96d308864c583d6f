using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>The parts of an outcome, each held against what it is made of.</summary>
public sealed class OutcomePartsTests
{
    private const string Means = "\nproxies: {names_kept: yes}\nseats: {decode: 100}\nstorage: {online: {capacity: 1 PB}, nearline: {capacity: 1 PB}}\n";

    private static readonly StudyModel Model = new(StudyFixtures.Prepared(
        StudyFixtures.ThreeCameras + Means + "events: [{name: refused, probability: 0.4, delay: 2 d, cost: 777.77, hits: finish}]\n"));

    private static readonly Comparison Answer = Compare.Run(Model, 200);

    // Each line is an amount times a price, rounded to a hundredth; lines and payers add up in every draw and in the mean.
    [Fact]
    public void Money_LinesAndPayers_AddUpToTheWhole()
    {
        for (int p = 0; p < Answer.Pipelines.Count; p++)
        {
            PipelineDraws draws = Answer.Evaluation.Pipelines[p];
            for (int d = 0; d < draws.Cost.Length; d++)
            {
                Assert.Equal(Math.Round(draws.Cost[d] * 100), draws.Costs.Sum(c => Math.Round(c[d] * 100)));
            }

            PipelineOutcome outcome = Answer.Pipelines[p];
            Assert.Equal(["post", "production"], outcome.Payers.Select(y => y.Payer).Order());
            Assert.Equal(outcome.CostMean, outcome.Payers.Sum(y => y.Mean), 1e-6 * outcome.CostMean);
            Assert.All(outcome.Costs, c => Assert.Contains(outcome.Payers, y => y.Payer == c.Payer));
            Assert.All(outcome.Costs.Where(c => c.Unit != "money"), c => Assert.True(c.PriceInvented));
        }

        // 71.663616 TB ÷ (18 TB × 0.92) = 4.33, so five tapes a set and ten for two: with the shoot's hours certain, in every draw.
        CostLine tapes = Answer.Of("proxy").Costs.Single(c => c.Name == "tapes");
        Assert.Equal((10, 10, 10), (tapes.Amount.P10, tapes.Amount.P50, tapes.Amount.P90));
    }

    [Fact]
    public void Money_EventOfACost_IsPaidInTheDrawsInWhichItHappens()
    {
        PipelineDraws draws = Answer.Evaluation.Pipelines[0];
        double[] events = draws.Costs[draws.CostItems.ToList().IndexOf("named events")];
        for (int d = 0; d < events.Length; d++)
        {
            Assert.Equal(Answer.Draws.Luck(d)[^1] < 0.4 ? 777.77 : 0, events[d]);
        }
    }

    // The limit that is named moves delivery P90 more than any other by its own small step; wholly relaxed, the next one does.
    [Theory]
    [InlineData("grade: 900 h", "graders")]
    [InlineData("quality_check: 50", "quality checkers")]
    [InlineData("hand_over: 900 h", "assistants")]
    public void Limits_WhatTakesLongest_BindsAndIsMeasured(string longest, string expected)
    {
        StudyModel model = new(StudyFixtures.Prepared(StudyFixtures.ThreeCameras.Replace("due: 2027-05-03", "due: 2027-12-24", StringComparison.Ordinal) + Means + $"pipelines: [transcode]\nfinish: {{{longest}}}\n"));
        PipelineOutcome outcome = Compare.Run(model, 100).Pipelines[0];
        Assert.Equal(expected, outcome.Binding!.Name);
        Dictionary<string, Change> others = new()
        {
            ["graders"] = Change.Scale("people.graders", 1.05),
            ["assistants"] = Change.Scale("people.assistants", 1.05),
            ["quality checkers"] = Change.Scale("people.checkers", 1.05),
            ["farm speed"] = Change.Scale("farm.speed", 1.05),
            ["lock date"] = Change.Plus("edit.lock", -1),
            ["lock slip"] = Change.Scale("edit.lock_slip", 0.95),
        };
        DrawSet draws = DrawSet.Sample(model.Inputs, 100, model.Study.Brief.Seed);
        double P90(params Change[] changes) => PostPipeline.Studies.Outcomes.Range.Of(model.Evaluate(draws, changes).Pipelines[0].Delivered).P90;
        Dictionary<string, double> gains = others.ToDictionary(o => o.Key, o => outcome.Delivery.P90 - P90(o.Value));
        Assert.Equal(expected, gains.MaxBy(g => g.Value).Key);
        Assert.Equal(gains[expected], outcome.Binding.Moves, 1e-6);

        Change whole = Change.Scale(others[expected].Input, 1e4);
        double relaxed = P90(whole);
        Assert.NotEqual(expected, outcome.Next!.Name);
        Assert.Equal(relaxed - P90(whole, others[outcome.Next.Name]), outcome.Next.Moves, 1e-6);
        Assert.All(others.Where(o => o.Key != expected), o => Assert.True(relaxed - P90(whole, o.Value) <= outcome.Next.Moves + 1e-6));
    }

    // The worked number of plannable streams: 10 GbE at 1,250 × 0.9 × 0.7 = 787.5 MB/s (common practice, no source); both
    // factors stand in the ledger, each once, and the tiers' own.
    [Fact]
    public void Margins_InTheGates_AreThoseOfTheLedger()
    {
        Gate link = Answer.Of("native").Gates.Single(g => g.Name == "link");
        Assert.Contains("of 788 MB/s plannable", link.Says, StringComparison.Ordinal);
        Assert.Equal((787.5 / (2 * 106.16832)) - 1, link.Margin, 1e-6);
        Dictionary<string, string> ledger = Answer.Margins.ToDictionary(m => m.Name, m => m.Value);
        Assert.Equal(("× 0.9", "× 0.7"), (ledger["sharing protocol"], ledger["headroom"]));
        Assert.Equal(("20 %", "÷ 1.25"), (ledger["online space kept free"], ledger["online redundancy"]));
        Assert.Contains("× 0.85", ledger["write ceiling"], StringComparison.Ordinal);
        Assert.Equal("92 %", ledger["tape fill"]);
        Assert.Equal(1e15 / 1.25 * 0.8, Model.Study.Brief.Storage.Online.UsableBytes, 1);
        Assert.Contains("of 640 TB usable", Answer.Of("native").Gates.Single(g => g.Name == "online capacity").Says, StringComparison.Ordinal);

        // A margin of a thing that the brief does not bound is no margin of the answer.
        StudyModel bare = new(StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\nstorage: {tape_copies: 0}\n"));
        Assert.Equal(["confidence", "headroom", "sharing protocol", "write ceiling"], Compare.Quick(bare, 20, []).Margins.Select(m => m.Name).Order());
    }

    [Fact]
    public void Quality_EveryRow_IsComputedOrSaysNotMeasured()
    {
        Dictionary<string, QualityRow> Rows(string pipeline) => Answer.Of(pipeline).Quality.ToDictionary(r => r.Name);
        Dictionary<string, QualityRow> originals = Rows("native");
        Dictionary<string, QualityRow> mezzanine = Rows("transcode");
        Assert.Equal(("4,096", "1,024"), (originals["code values"].Value, mezzanine["code values"].Value));
        Assert.Equal(("1.07", "1"), (originals["reframing headroom across"].Value, mezzanine["reframing headroom across"].Value));

        // 4,423,680 B × 8 ÷ (4096 × 2160) = 4 bit/px of 12-bit raw at 3:1.
        Assert.Equal(("4", "3.5"), (originals["bits per pixel"].Value, mezzanine["bits per pixel"].Value));
        Assert.Equal(("1–2", "2–3"), (originals["lossy generations to the master"].Value, mezzanine["lossy generations to the master"].Value));
        Assert.All(Answer.Pipelines, p => Assert.Equal("not measured", p.Quality.Single(q => q.Name == "difference from the original").Value));
        Assert.All(Answer.Pipelines, p => Assert.DoesNotContain(p.Quality, q => q.Name.Contains("score", StringComparison.OrdinalIgnoreCase)));
    }

    // A finding of the rehearsal is a gate of the pipelines that conform, and an exposure in minutes; the others do not carry it.
    [Fact]
    public void Rehearsal_Finding_IsAGateAndAnExposure()
    {
        PreparedStudy study = StudyFixtures.Prepared(StudyFixtures.ThreeCameras + Means + "finish: {problem_event: 14 min}\n");
        RehearsalFacts rehearsal = new(false, 1000, 37, 37, [new RehearsalNote("merged reels", true, "B", 12, 37, "two reels are one at eight characters.", "longer reels")]);
        StudyModel model = new(study with { Rehearsals = new Dictionary<string, RehearsalFacts> { ["in-post"] = rehearsal } });
        Comparison comparison = Compare.Quick(model, 50, []);
        Finding finding = comparison.Of("proxy").Findings.Single(f => f.Name == "merged reels");
        Assert.Contains("would break, camera B", finding.Says, StringComparison.Ordinal);
        Assert.Contains("Exposure: 37 events × 14 min.", finding.Says, StringComparison.Ordinal);
        Assert.Equal("longer reels", finding.Remedy);
        Assert.Equal(GateState.Fails, comparison.Of("proxy").Gates.Single(g => g.Name == "match key").State);
        Assert.Equal(GateState.Passes, comparison.Of("native").Gates.Single(g => g.Name == "match key").State);
        Assert.DoesNotContain(comparison.Of("native").Findings, f => f.Name == "merged reels");

        // 3.7 % of the events take 14 min instead of the clean rate: that many person-hours more than without.
        StudyModel clean = new(study);
        double More(StudyModel m) => m.Evaluate(DrawSet.Median(m.Inputs)).Pipelines[^1].PeopleHours[0];
        double events = model.Inputs.Inputs[model.Inputs.PlaceOf("edit.events_per_minute")].Likely;
        double median = DrawSet.Median(model.Inputs).Row(0)[model.Inputs.PlaceOf("edit.events_per_minute")] * 110;
        double perHour = DrawSet.Median(model.Inputs).Row(0)[model.Inputs.PlaceOf("finish.clean_events")];
        Assert.True(events > 0);
        Assert.Equal(median * 0.037 * ((14 / 60.0) - (1 / perHour)), More(model) - More(clean), 1e-6);
    }
}
