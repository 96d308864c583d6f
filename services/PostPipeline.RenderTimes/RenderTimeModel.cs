using System.Globalization;
using PostPipeline.RenderTimes.Features;
using PostPipeline.RenderTimes.Intervals;

namespace PostPipeline.RenderTimes;

/// <summary>A trained model: immutable, and safe to ask from any number of threads.</summary>
public sealed class RenderTimeModel
{
    private readonly ModelParts parts;
    private readonly Dictionary<string, int>[] levels;

    private RenderTimeModel(ModelParts parts)
    {
        this.parts = parts;
        levels = [.. parts.Encoder.Categories.Select(c => c.Index())];
    }

    /// <summary>What the model rests on.</summary>
    public ModelRecord Record => parts.Record;

    /// <summary>What the columns are for.</summary>
    public TableSchema Schema => parts.Schema;

    /// <summary>What was measured, as a sentence.</summary>
    public string ValidatedDomain => $"{Record.Families} families, {Record.Rows} rows: {parts.Domain.Describe(parts.Encoder)}";

    /// <summary>Predicts seconds per frame.</summary>
    /// <param name="features">Values by column name; numbers in invariant notation, empty where missing.</param>
    /// <param name="coverage">The part of rows of unseen families that the band should cover, above 0 and below 1.</param>
    /// <param name="estimate">The answer.</param>
    /// <param name="violation">What is wrong with the question.</param>
    public bool TryPredict(
        IReadOnlyDictionary<string, string> features, double coverage, out RenderTimeEstimate? estimate, out RowViolation violation)
    {
        estimate = null;
        double[] numbers = new double[parts.Encoder.Numbers.Length];
        int[] codes = new int[parts.Encoder.Categories.Length];
        if (!TryRead(features, numbers, codes, out violation))
        {
            return false;
        }

        string[] categories = [.. parts.Encoder.Categories.Select((c, i) => c.Levels[codes[i]])];
        DomainAnswer place = parts.Domain.Locate(parts.Encoder, numbers, categories);
        double log = parts.Predictor.Predict(parts.Encoder.Encode(numbers, codes));
        double? halfWidth = HierarchicalConformal.HalfWidth(parts.FamilyScores, coverage);
        List<string> notes = [.. place.Notes];
        if (Record.Invented)
        {
            notes.Add("rests on invented rows");
        }

        for (int i = 0; i < numbers.Length; i++)
        {
            if (double.IsNaN(numbers[i]))
            {
                notes.Add($"{parts.Encoder.Numbers[i].Name} is missing");
            }
        }

        double low = parts.LowestRatio;
        double high = parts.HighestRatio;
        if (halfWidth is double half)
        {
            (low, high) = (-half * place.Widening, half * place.Widening);
        }
        else
        {
            notes.Add(
                $"{Record.Families} families are too few to promise {coverage:P0} ({HierarchicalConformal.FewestFamilies(coverage)} are needed); "
                + "the ends are the range of measured ÷ predicted on the families held out");
        }

        estimate = new(
            Math.Exp(log),
            Math.Exp(log + low),
            Math.Exp(log + high),
            halfWidth is null,
            Record.HeldOut.LogDeviation * place.Widening,
            place.Outside,
            notes);
        return true;
    }

    internal static RenderTimeModel FromParts(ModelParts parts) => new(parts);

    internal ModelParts ToParts() => parts;

    private bool TryRead(IReadOnlyDictionary<string, string> features, double[] numbers, int[] codes, out RowViolation violation)
    {
        violation = default;
        foreach (string name in features.Keys)
        {
            if (!Schema.NumberColumns.Contains(name, StringComparer.Ordinal) && !Schema.CategoryColumns.Contains(name, StringComparer.Ordinal))
            {
                violation = new($"features[{name}]", $"the model has no feature of that name; it has {string.Join(", ", Schema.NumberColumns.Concat(Schema.CategoryColumns))}");
                return false;
            }
        }

        for (int i = 0; i < numbers.Length; i++)
        {
            NumberEncoding number = parts.Encoder.Numbers[i];
            string text = features.GetValueOrDefault(number.Name, string.Empty).Trim();
            numbers[i] = double.NaN;
            if (text.Length == 0 ? !number.MayBeMissing : !double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out numbers[i]) || !double.IsFinite(numbers[i]))
            {
                violation = new($"features[{number.Name}]", text.Length == 0
                    ? "it is missing, and no row that the model learned from lacked it"
                    : $"'{text}' is not a finite number");
                return false;
            }
        }

        for (int i = 0; i < codes.Length; i++)
        {
            CategoryEncoding category = parts.Encoder.Categories[i];
            string text = features.GetValueOrDefault(category.Name, string.Empty).Trim();
            if (!levels[i].TryGetValue(text, out codes[i]))
            {
                violation = new($"features[{category.Name}]", $"'{text}' was never measured; measured were {string.Join(", ", category.Levels.Take(30))}");
                return false;
            }
        }

        return true;
    }
}
