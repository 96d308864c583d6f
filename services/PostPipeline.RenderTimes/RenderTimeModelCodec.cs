using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using PostPipeline.RenderTimes.Features;
using PostPipeline.RenderTimes.Intervals;
using PostPipeline.RenderTimes.Predictors;
using PostPipeline.RenderTimes.Profiles;

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
/// <param name="Predictor">The fitted predictor of rows; null where a profile predictor was chosen.</param>
/// <param name="Profile">The fitted predictor of profiles; null where a predictor of rows was chosen.</param>
/// <param name="Columns">Which columns make a setting.</param>
/// <param name="Settings">The key of each setting.</param>
/// <param name="Domain">What was measured.</param>
/// <param name="Errors">The errors on families held out.</param>
internal sealed record ModelParts(
    ModelRecord Record,
    TableSchema Schema,
    FeatureEncoder Encoder,
    AdditivePredictor? Predictor,
    ProfilePredictor? Profile,
    SettingColumns Columns,
    ImmutableArray<string> Settings,
    MeasuredDomain Domain,
    FamilyErrors Errors)
{
    /// <summary>The encoder that the domain speaks in.</summary>
    [JsonIgnore]
    public FeatureEncoder DomainEncoder => Profile?.Scaling.Encoder ?? Encoder;

    /// <summary>Positions of the number columns that describe a family.</summary>
    public IEnumerable<int> FamilyNumbers() => Enumerable.Range(0, Schema.NumberColumns.Length).Except(Columns.Numbers);

    /// <summary>Positions of the category columns that describe a family.</summary>
    public IEnumerable<int> FamilyCategories() => Enumerable.Range(0, Schema.CategoryColumns.Length).Except(Columns.Categories);

    /// <summary>Names of the columns that make a setting.</summary>
    public IEnumerable<string> SettingNames() =>
        Columns.Categories.Select(c => Schema.CategoryColumns[c]).Concat(Columns.Numbers.Select(n => Schema.NumberColumns[n]));
}
