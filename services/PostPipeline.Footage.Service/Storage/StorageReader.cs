using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Footage.Stores;
using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using Generation = PostPipeline.Footage.Stores.Generation;
using GenerationMessage = PostPipeline.Contracts.Footage.V1.Generation;
using RationalMessage = PostPipeline.Contracts.Types.V1.Rational;
using Tier = PostPipeline.Footage.Stores.Tier;
using TierMessage = PostPipeline.Contracts.Footage.V1.Tier;

namespace PostPipeline.Footage.Service.Storage;

/// <summary>Reads generations and tiers.</summary>
internal static class StorageReader
{
    private const long LastSecond = 1L << 40;

    public static Generation Read(GenerationMessage message, FieldPath at, HashSet<string> tiers, Violations violations)
    {
        violations.Length(at["label"], message.Label, 0, ItemProblems.MaximumLabel);
        violations.Require(at["tier"], tiers.Contains(message.Tier), $"is '{message.Tier}'; listed are {string.Join(", ", tiers)}");
        violations.InRange(at["bytes"], message.Bytes, 0, long.MaxValue);
        violations.InRange(at["copies"], message.Copies, 1, 1000);
        violations.InRange(at["from_seconds"], message.FromSeconds, -LastSecond, LastSecond);
        violations.InRange(at["complete_seconds"], message.CompleteSeconds, Math.Clamp(message.FromSeconds, -LastSecond, LastSecond), LastSecond);
        if (message.HasPurgeSeconds)
        {
            violations.InRange(at["purge_seconds"], message.PurgeSeconds, Math.Clamp(message.CompleteSeconds, -LastSecond, LastSecond), LastSecond);
        }

        if (message.HasPurgedSeconds)
        {
            violations.Require(at["purged_seconds"], message.HasPurgeSeconds, $"is {message.PurgedSeconds}, but purge_seconds is not set");
            violations.InRange(at["purged_seconds"], message.PurgedSeconds, Math.Clamp(message.PurgeSeconds, -LastSecond, LastSecond), LastSecond);
        }

        return new(message.Label, message.Tier, message.Bytes, message.FromSeconds, message.CompleteSeconds)
        {
            Copies = message.Copies,
            PurgeSeconds = message.HasPurgeSeconds ? message.PurgeSeconds : null,
            PurgedSeconds = message.HasPurgedSeconds ? message.PurgedSeconds : null,
            PurgeTrigger = message.PurgeTrigger,
            Payer = message.Payer,
        };
    }

    public static Tier? Read(TierMessage message, FieldPath at, Violations violations)
    {
        violations.Length(at["label"], message.Label, 1, ItemProblems.MaximumLabel);
        Rational? free = Fraction(message.Free, at["free"], violations);
        Rational? redundancy = Fraction(message.Redundancy, at["redundancy"], violations);
        return violations.InRange(at["usable_bytes"], message.UsableBytes, 0, long.MaxValue)
            ? violations.Check(at, () => new Tier(message.Label, message.UsableBytes == 0 ? null : message.UsableBytes, free, redundancy))
            : null;
    }

    private static Rational? Fraction(RationalMessage? value, FieldPath at, Violations violations) =>
        value is null || !violations.InRange(at["denominator"], value.Denominator, 1, long.MaxValue) ? null : new Rational(value.Numerator, value.Denominator);
}
