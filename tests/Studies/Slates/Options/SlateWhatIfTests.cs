using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Tests.Slates.Files;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates.Options;

/// <summary>What-if changes of a brief's inputs, held against what the stages of a slate's pipelines then take. No services are asked.</summary>
public sealed class SlateWhatIfTests
{
    private const string Effects = "effects:\n  shots: 40\n  length: 4 s\n  versions: 3\n  version: 4 d\n";

    // The edit lasts its days after the material, so twice the days are twice the seconds on every draw, whatever the pipeline.
    [Fact]
    public void Of_TwiceTheEditingDays_ReachTheEditOfEveryPipelineOfThatProjectOnly()
    {
        Slate slate = SlateSamples.Read(SlateSamples.TwoProjects);
        SlateEvaluation now = Evaluate(slate);
        SlateEvaluation longer = Evaluate(slate, new() { ["Alder"] = [Change.Scale("edit.after_material", 2)] });
        foreach (EvaluatedOption option in now.Projects[0].Options)
        {
            StageDraws before = option.Stages.Single(s => s.Kind == StageKind.Edits);
            StageDraws after = longer.Projects[0].Of(option.Pipeline).Stages.Single(s => s.Kind == StageKind.Edits);
            Assert.All(before.Lasts.Zip(after.Lasts), d => Assert.Equal(2 * d.First, d.Second, d.First * 1e-9));
        }

        AssertSame(now.Projects[1], longer.Projects[1]);

        // In the planning problem too: 21 likely days at P80 become twice as many, to the half-day.
        int Edit(SlateEvaluation e) => new SlateProblemBuilder(e).Build().Projects[0].Options[0].Stages.Single(s => s.Name == "edit to lock").Duration;
        Assert.InRange(Edit(longer), (2 * Edit(now)) - 1, 2 * Edit(now));
    }

    // Half the nodes there at any time: all farm work takes twice the node-hours of what is there when all are.
    [Theory]
    [InlineData(1, 0.5, 2)]
    [InlineData(0.8, 0.4, 2)]
    [InlineData(1, 0.25, 4)]
    public void Of_FarmLessAvailable_NeedsMoreNodeHours(double first, double second, double factor)
    {
        Slate slate = SlateSamples.Read(SlateSamples.TwoProjects);
        SlateEvaluation At(double available) => Evaluate(slate, new() { ["Birch"] = [Change.Fix("farm.available", available)] });
        (SlateEvaluation much, SlateEvaluation little) = (At(first), At(second));
        StageDraws[] farm = [.. much.Projects[1].Options.SelectMany(o => o.Stages).Where(s => s.Resource == "farm")];
        StageDraws[] slower = [.. little.Projects[1].Options.SelectMany(o => o.Stages).Where(s => s.Resource == "farm")];
        Assert.True(farm.Length >= 3, $"{farm.Length} farm stages");
        Assert.All(farm.Zip(slower), s => Assert.All(s.First.Work.Zip(s.Second.Work), d => Assert.Equal(d.First * factor, d.Second, (d.First * 1e-9) + 1e-12)));
        AssertSame(much.Projects[0], little.Projects[0]);
    }

    // By half: 40 shots become 60 and a version of 4 days takes 6; plates and versions on storage grow by half, the rest stays.
    [Fact]
    public void Shock_EffectsGrown_MovesVersionsAndTheirStorageAndNothingElse()
    {
        Slate slate = SlateSamples.Read(SlateSamples.TwoProjects, SlateSamples.Brief + Effects);
        SlateEvaluation evaluation = Evaluate(slate);
        SlateProblem now = new SlateProblemBuilder(evaluation).Build();
        SlateProblem grown = SlateShock.Effects.To(now, evaluation, 0, 14).Problem;
        foreach ((SlateOption before, SlateOption after) in now.Projects[0].Options.Zip(grown.Projects[0].Options))
        {
            Assert.Equal(before.Pipeline, after.Pipeline);
            Assert.Equal((24, 36), (Stage(before).Duration, Stage(after).Duration));
            Assert.Equal(before.Stages.Where(s => !s.Name.Contains("effects", StringComparison.Ordinal)).Select(s => s.Duration), after.Stages.Where(s => !s.Name.Contains("effects", StringComparison.Ordinal)).Select(s => s.Duration));
            Assert.All(before.Lives.Zip(after.Lives), l => Assert.True(
                l.First.Name.StartsWith("effects", StringComparison.Ordinal) ? l.Second.Amount >= (1.5 * l.First.Amount) - 2 && l.Second.Amount > l.First.Amount : l.Second.Amount == l.First.Amount, $"{l}"));
            Assert.True(after.Money > before.Money);
        }

        Assert.Same(now.Projects[1], grown.Projects[1]);

        // By 3: versions of 12 days, three of them.
        Assert.Equal(72, Stage(SlateShock.Effects.To(now, evaluation, 0, 14, factor: 3).Problem.Projects[0].Options[0]).Duration);
        static SlateStage Stage(SlateOption option) => option.Stages.Single(s => s.Name == "effects versions");
    }

    // Twice the hours: all originals are twice as many bytes, so is what is made of all of them, and the farm's work on it; a
    // second camera beside one is the same, since it records as much. The edit, the grade and the date stay.
    [Fact]
    public void Shock_MoreMaterial_ReachesEverythingThatHandlesAllOfIt()
    {
        SlateEvaluation evaluation = Evaluate(SlateSamples.Read(SlateSamples.TwoProjects));
        SlateProblem now = new SlateProblemBuilder(evaluation).Build();
        ShockedSlate shocked = SlateShock.Twice.To(now, evaluation, 0, 14);
        Assert.Empty(shocked.Breaks);
        SlateProblem twice = shocked.Problem;
        Assert.Equal(now.Projects[0].Options.Select(o => o.Pipeline), twice.Projects[0].Options.Select(o => o.Pipeline));
        foreach ((SlateOption before, SlateOption after) in now.Projects[0].Options.Zip(twice.Projects[0].Options))
        {
            Assert.All(before.Lives.Zip(after.Lives).Where(l => l.First.Name is "originals"), l => Assert.InRange(l.Second.Amount, (2 * l.First.Amount) - 2, (2 * l.First.Amount) + 2));
            Assert.Equal(Duration(before, "grade"), Duration(after, "grade"));
            Assert.True(Duration(after, "sync and logging") > Duration(before, "sync and logging"));
            Assert.True(after.Stages.Sum(Farm) > before.Stages.Sum(Farm));
            Assert.True(after.Money > before.Money);
        }

        Assert.Same(now.Projects[1], twice.Projects[1]);
        Assert.Equivalent(twice.Projects[0], SlateShock.Camera.To(now, evaluation, 0, 14).Problem.Projects[0]);
        static int Duration(SlateOption option, string stage) => option.Stages.Single(s => s.Name == stage).Duration;
        static double Farm(SlateStage stage) => stage.Farm.Sum(f => f.NodeHalfDays);
    }

    // Three cards of four are in use on a day as planned, six with twice the material: no plan mends that, and the project goes on.
    [Fact]
    public void Shock_MoreMaterialThanTheCardsHold_IsSaidAndThePipelinesStay()
    {
        Slate slate = SlateSamples.Read(SlateSamples.TwoProjects, SlateSamples.Brief + "cards:\n  - {name: long, size: 1 TB, write: 900 MB/s, count: 4}\n");
        SlateEvaluation evaluation = Evaluate(slate, cards: [2, 3, 6]);
        SlateProblem now = new SlateProblemBuilder(evaluation).Build();
        ShockedSlate shocked = SlateShock.Twice.To(now, evaluation, 0, 14);
        Assert.Equal(now.Projects[0].Options.Select(o => o.Pipeline), shocked.Problem.Projects[0].Options.Select(o => o.Pipeline));
        Assert.Equal(now.Projects[0].Options.Count, shocked.Breaks.Count);
        Assert.All(shocked.Breaks, b => Assert.Contains("cards fails: the heaviest day has at most ", b, StringComparison.Ordinal));
        Assert.Empty(SlateShock.Slip.To(now, evaluation, 0, 14).Breaks);
    }

    [Fact]
    public void Shock_EffectsOfABriefWithoutAny_IsRefused()
    {
        SlateEvaluation evaluation = Evaluate(SlateSamples.Read(SlateSamples.TwoProjects));
        SlateProblem now = new SlateProblemBuilder(evaluation).Build();
        ArgumentException error = Assert.Throws<ArgumentException>(() => SlateShock.Effects.To(now, evaluation, 1, 14));
        Assert.StartsWith("the brief of Birch has no effects", error.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => SlateShock.Effects.To(now, Evaluate(SlateSamples.Read(SlateSamples.TwoProjects, SlateSamples.Brief + Effects)), 1, 14, factor: 100));
    }

    // In the fixture offload ends two hours after wrap where twice the material comes in: 24 h − 10 h of shoot − 2 h leave less than asked.
    [Theory]
    [InlineData("8 h", 0)]
    [InlineData("23 h", 2)]
    public void ShortRest_AskedForMoreThanTheNightHas_IsSaidForEachProject(string asked, int projects)
    {
        SlateEvaluation evaluation = Evaluate(SlateSamples.Read(SlateSamples.TwoProjects, SlateSamples.Brief + $"offload: {{rest: {asked}}}\n"));
        Assert.Equal(projects, evaluation.ShortRest.Count);
        Assert.All(evaluation.ShortRest, r => Assert.Matches("^(Alder|Birch): between the last card and the next call stand at least .* asked for 23 h", r));
    }

    private static SlateEvaluation Evaluate(Slate slate, Dictionary<string, IReadOnlyList<Change>>? changes = null, double[]? cards = null) => SlateEvaluation.Of(
        slate, [.. slate.Projects.Select(p => new StudyModel(WithCards(StudyFixtures.Prepared(SlateEvaluation.OnTheSlate(slate, p.Brief)), cards)))], 40, changes);

    // Cards in use at half, once and twice the material.
    private static PreparedStudy WithCards(PreparedStudy study, double[]? cards) =>
        cards is null ? study : study with { Offload = study.Offload with { CardsByLevel = [.. study.Brief.Shoot.Cameras.Select(_ => cards)] } };

    private static void AssertSame(EvaluatedProject left, EvaluatedProject right) =>
        Assert.All(left.Options.Zip(right.Options), o => Assert.All(o.First.Stages.Zip(o.Second.Stages), s =>
        {
            Assert.Equal(s.First.Work, s.Second.Work);
            Assert.Equal(s.First.Lasts, s.Second.Lasts);
        }));
}
