using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Lays a change of a request over a scenario.</summary>
internal static class NightChanges
{
    public static FarmScenario Apply(
        FarmScenario scenario, Farm farm, NightChange change, FarmReader reader, Violations violations, FieldPath at)
    {
        switch (change.ChangeCase)
        {
            case NightChange.ChangeOneofCase.Hold:
                violations.InRange(at["hold"]["job"], change.Hold.Job, 0, scenario.Jobs.Count - 1);
                long until = double.IsPositiveInfinity(change.Hold.UntilSeconds)
                    ? FarmClock.Longest
                    : reader.Clock.Microseconds(at["hold"]["until_seconds"], change.Hold.UntilSeconds);
                return NightWatch.Hold(scenario, change.Hold.Job, until);
            case NightChange.ChangeOneofCase.Raise:
                violations.InRange(at["raise"]["job"], change.Raise.Job, 0, scenario.Jobs.Count - 1);
                violations.InRange(at["raise"]["priority"], change.Raise.Priority, -FarmScenarioLimits.MostPriority, FarmScenarioLimits.MostPriority);
                return NightWatch.Raise(scenario, change.Raise.Job, change.Raise.Priority);
            case NightChange.ChangeOneofCase.Maintenance:
                return NightWatch.TakeOut(scenario, reader.Nodes.Maintenance(farm, change.Maintenance, at["maintenance"]));
            default:
                violations.Add(at, "has no change; allowed is one of hold, raise, maintenance");
                return scenario;
        }
    }
}
