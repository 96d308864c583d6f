using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.WhatIfs;

namespace PostPipeline.Studies.Tests.Inputs;

/// <summary>The draws of a model's own seed, to look a decision up at a value.</summary>
internal sealed class DrawSetView(StudyModel model, int draws)
{
    private readonly DrawSet set = DrawSet.Sample(model.Inputs, draws, model.Study.Brief.Seed);

    public string Preferred(StudyModel of, string input, double value) => Decision.Of(of, set, [Change.Fix(input, value)]).Preferred;
}
