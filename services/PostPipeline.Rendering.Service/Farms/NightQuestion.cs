using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>What is running now and what could be done about it, read from a request and ready to be forecast.</summary>
internal sealed class NightQuestion
{
    private const int MostChanges = 20;

    private readonly ForecastTonightRequest request;
    private readonly FarmScenario[] nights;
    private readonly IReadOnlyList<PostPipeline.Farms.StuckTask> stuck;

    private NightQuestion(ForecastTonightRequest request, FarmScenario[] nights, IReadOnlyList<PostPipeline.Farms.StuckTask> stuck) =>
        (this.request, this.nights, this.stuck) = (request, nights, stuck);

    /// <summary>Reads a request; throws when anything in it is wrong.</summary>
    public static NightQuestion Read(ForecastTonightRequest request)
    {
        Violations violations = new();
        violations.InRange("replications", request.Replications, 1, FarmReplications.Most);
        violations.Count("due_seconds", request.DueSeconds.Count, 0, request.Jobs.Count);
        violations.Count("changes", request.Changes.Count, 0, MostChanges);
        FarmReader reader = new(violations);
        FarmScenario scenario = reader.ReadRunning(reader.Read(request.Farm, request.Jobs), request.Running);
        IReadOnlyList<PostPipeline.Farms.StuckTask> stuck = NightWatch.Stuck(scenario);
        scenario = NightWatch.Mark(scenario, stuck);
        FarmScenario[] nights = [scenario, .. request.Changes.Select((c, i) => NightChanges.Apply(scenario, request.Farm, c, reader, violations, FieldPath.Of("changes")[i]))];
        violations.ThrowIfAny();
        foreach (FarmScenario night in nights)
        {
            reader.Refuse(night);
        }

        return new(request, nights, stuck);
    }

    /// <summary>Forecasts the night as it stands and under each change.</summary>
    /// <param name="report">Told how many replications of all nights are done, and how many there are.</param>
    /// <param name="token">Ends it early.</param>
    public ForecastTonightResponse Answer(Action<int, int> report, CancellationToken token)
    {
        ForecastTonightResponse response = new() { Seed = request.Seed, Replications = request.Replications };
        FarmForecast? asItStands = null;
        for (int i = 0; i < nights.Length; i++)
        {
            int before = i * request.Replications;
            FarmForecast forecast = FarmReplications.Run(
                nights[i], request.Seed, request.Replications, done => report(before + done, nights.Length * request.Replications), null, token);
            asItStands ??= forecast;
            response.Forecasts.Add(FarmWriter.Write(i == 0 ? string.Empty : request.Changes[i - 1].Label, request, forecast, asItStands, FarmBounds.Of(nights[i])));
        }

        response.Stuck.AddRange(stuck.Select(s => FarmWriter.Write(s, nights[0])));
        response.Notes.AddRange(FarmNotes.Of(request.Farm, request.Jobs));
        return response;
    }
}
