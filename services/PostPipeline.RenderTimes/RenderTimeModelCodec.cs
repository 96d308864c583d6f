using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using PostPipeline.RenderTimes.Features;
using PostPipeline.RenderTimes.Intervals;
using PostPipeline.RenderTimes.Predictors;

namespace PostPipeline.RenderTimes;

/// <summary>Writes a model as text that another process reads back to the same predictions, bit for bit.</summary>
public static class RenderTimeModelCodec
{
    private static readonly JsonSerializerOptions Options = new()
    {
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        RespectRequiredConstructorParameters = true,
    };

    /// <summary>Writes a model.</summary>
    /// <param name="model">The model.</param>
    /// <param name="stream">Where to.</param>
    public static void Write(RenderTimeModel model, Stream stream) => JsonSerializer.Serialize(stream, model.ToParts(), Options);

    /// <summary>Reads a model.</summary>
    /// <param name="stream">Where from.</param>
    /// <exception cref="JsonException">The text is not a model of this version.</exception>
    public static RenderTimeModel Read(Stream stream) => RenderTimeModel.FromParts(
        JsonSerializer.Deserialize<ModelParts>(stream, Options) ?? throw new JsonException("The file holds no model."));
}

/// <summary>All that a model is made of.</summary>
/// <param name="Record">What it rests on.</param>
/// <param name="Schema">What the columns are for.</param>
/// <param name="Encoder">How features become numbers.</param>
/// <param name="Predictor">The fitted predictor.</param>
/// <param name="Domain">What was measured.</param>
/// <param name="FamilyScores">Sizes of the errors on held-out rows, by family.</param>
/// <param name="LowestRatio">The smallest log(measured ÷ predicted) on held-out rows.</param>
/// <param name="HighestRatio">The largest.</param>
internal sealed record ModelParts(
    ModelRecord Record,
    TableSchema Schema,
    FeatureEncoder Encoder,
    AdditivePredictor Predictor,
    MeasuredDomain Domain,
    ImmutableArray<double[]> FamilyScores,
    double LowestRatio,
    double HighestRatio);
