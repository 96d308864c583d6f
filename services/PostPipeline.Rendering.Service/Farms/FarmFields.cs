using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;
using ClosingRule = PostPipeline.Contracts.Rendering.V1.ClosingRule;
using SharingRule = PostPipeline.Contracts.Rendering.V1.SharingRule;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>What must hold for the farm's own fields, and what its rules are called in the domain.</summary>
internal static class FarmFields
{
    public static void Check(Farm farm, FieldPath at, Violations violations)
    {
        violations.Count(at["node_classes"], farm.NodeClasses.Count, 1, FarmScenarioLimits.MostClasses);
        violations.InRange(at["failure_probability"], farm.FailureProbability, 0, 0.99);
        violations.InRange(at["most_attempts"], farm.MostAttempts, 0, 1000);
        violations.InRange(at["storage_bytes_per_second"], farm.StorageBytesPerSecond, 0, 1e15);
        violations.InRange(at["broken_probability"], farm.BrokenProbability, 0, 1);
        violations.InRange(at["failure_point"], farm.HasFailurePoint ? farm.FailurePoint : 1, 0, 1);
        violations.InRange(at["link_bytes_per_second"], farm.LinkBytesPerSecond, 0, 1e15);
        violations.InRange(at["storage_overlap"], farm.HasStorageOverlap ? farm.StorageOverlap : 1, 0, 1);
        violations.InRange(at["night_failure_probability"], farm.NightFailureProbability, 0, 1);
        violations.Require(at["closing"], Enum.IsDefined(farm.Closing), $"is {farm.Closing}; allowed is one of pause, finish, abandon");
        violations.Require(at["sharing"], Enum.IsDefined(farm.Sharing), $"is {farm.Sharing}; allowed is one of strict, fair");
        violations.Count(at["licences"], farm.Licences.Count, 0, FarmScenarioLimits.MostClasses);
        foreach ((string name, int count) in farm.Licences)
        {
            violations.InRange(at[$"licences[{name}]"], count, 1, int.MaxValue);
        }

        // What would have no effect by oversight is refused; what may be left over on purpose is said (FarmNotes).
        violations.Require(
            at["sharing"], farm.ProjectWeights.Count == 0 || farm.Sharing != SharingRule.Unspecified, "is not set, and project_weights are given; allowed is fair, or strict to say that they shall not count");
        violations.Require(
            at["nights"], !(farm.NightFailureProbability > 0) || farm.Nights.Count > 0, $"is empty, and night_failure_probability is {farm.NightFailureProbability}; allowed is one night or more");
        violations.Require(
            at["link_bytes_per_second"], !(farm.LinkBytesPerSecond > 0) || farm.StorageBytesPerSecond > 0, $"is {farm.LinkBytesPerSecond}, and storage_bytes_per_second is 0, so there is nothing to be linked to; allowed is 0, or both");
        foreach ((string name, double weight) in farm.ProjectWeights)
        {
            violations.InRange(at[$"project_weights[{name}]"], weight, 1e-6, 1e6);
        }
    }

    public static PostPipeline.Farms.SharingRule Sharing(Farm farm) =>
        farm.Sharing == SharingRule.Fair ? PostPipeline.Farms.SharingRule.Fair : PostPipeline.Farms.SharingRule.Strict;

    public static PostPipeline.Farms.ClosingRule Closing(Farm farm) => farm.Closing switch
    {
        ClosingRule.Finish => PostPipeline.Farms.ClosingRule.Finish,
        ClosingRule.Abandon => PostPipeline.Farms.ClosingRule.Abandon,
        _ => PostPipeline.Farms.ClosingRule.Pause,
    };
}
