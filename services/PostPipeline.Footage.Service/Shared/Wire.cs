using DerivationMessage = PostPipeline.Contracts.Types.V1.Derivation;
using KnownMessage = PostPipeline.Contracts.Types.V1.Known;
using RasterMessage = PostPipeline.Contracts.Types.V1.Raster;
using RationalMessage = PostPipeline.Contracts.Types.V1.Rational;
using Verdict = PostPipeline.Contracts.Types.V1.Verdict;

namespace PostPipeline.Footage.Service.Shared;

/// <summary>Domain values as messages.</summary>
internal static class Wire
{
    public static RationalMessage Of(Quantities.Rational value) => new() { Numerator = value.Numerator, Denominator = value.Denominator };

    public static RasterMessage Of(Quantities.Raster raster) => new() { Width = raster.Width, Height = raster.Height };

    public static Verdict Of(bool? passes) => passes switch
    {
        true => Verdict.Pass,
        false => Verdict.Fail,
        null => Verdict.Unknown,
    };

    /// <summary>A tree as a message. A number that is used twice is written out once; where it comes back it is named only, and its margin is on once.</summary>
    public static DerivationMessage Of(Quantities.Derivation derivation) => Of(derivation, new(ReferenceEqualityComparer.Instance));

    private static DerivationMessage Of(Quantities.Derivation derivation, HashSet<Quantities.Derivation> written)
    {
        if (!written.Add(derivation) && derivation.Inputs.Count > 0)
        {
            return new() { Name = derivation.Name, Value = derivation.Value, Unit = derivation.Unit, Source = "worked out above" };
        }

        DerivationMessage message = new()
        {
            Name = derivation.Name,
            Formula = derivation.Formula,
            Substituted = derivation.Substituted,
            Value = derivation.Value,
            Unit = derivation.Unit,
            Source = derivation.Source,
            Known = (KnownMessage)(int)derivation.Known,
            Margin = derivation.Margin,
            BindingLimit = derivation.BindingLimit,
            NextLimit = derivation.NextLimit,
        };
        message.Inputs.AddRange(derivation.Inputs.Select(i => Of(i, written)));
        return message;
    }
}
