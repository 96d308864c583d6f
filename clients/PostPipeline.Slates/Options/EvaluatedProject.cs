using PostPipeline.Slates.Files;
using PostPipeline.Studies;

namespace PostPipeline.Slates.Options;

/// <summary>A project with the pipelines that it may take.</summary>
/// <param name="Entry">The project.</param>
/// <param name="Model">Its study.</param>
/// <param name="Options">The pipelines, the cheapest first.</param>
/// <param name="LeftOut">Pipelines that it may not take, each with the gates that speak against it.</param>
public sealed record EvaluatedProject(SlateEntry Entry, StudyModel Model, IReadOnlyList<EvaluatedOption> Options, IReadOnlyList<string> LeftOut)
{
    /// <summary>The pipeline of that name.</summary>
    /// <param name="pipeline">Its name.</param>
    public EvaluatedOption Of(string pipeline) => Options.First(o => o.Pipeline == pipeline);
}
