using System.Globalization;
using PostPipeline.RenderTimes.Features;
using PostPipeline.RenderTimes.Intervals;

namespace PostPipeline.RenderTimes;

/// <summary>A trained model: immutable, and safe to ask from any number of threads.</summary>
public sealed class RenderTimeModel
{
    private readonly ModelParts parts;
    private readonly Dictionary<string, int>[] levels;
    private readonly Dictionary<string, int> settings;
    private readonly Lazy<RenderTimeFamily> unmeasured;

    private RenderTimeModel(ModelParts parts)
    {
        this.parts = parts;
        levels = [.. parts.Encoder.Categories.Select(c => c.Index())];
        settings = parts.Settings.Select((key, i) => (key, i)).ToDictionary(s => s.key, s => s.i, StringComparer.Ordinal);
        unmeasured = new(() => new RenderTimeFamily(this, parts.Errors.Condition([], []), 0));
    }

    /// <summary>What the model rests on.</summary>
    public ModelRecord Record => parts.Record;

    /// <summary>What the columns are for.</summary>
    public TableSchema Schema => parts.Schema;

    /// <summary>What was measured, as a sentence.</summary>
    public string ValidatedDomain => $"{Record.Families} families, {Record.Rows} rows: {parts.Domain.Describe(parts.DomainEncoder)}"
        + (parts.Profile is null ? string.Empty : $"; {parts.Settings.Length} combinations of the other columns");

    /// <summary>A family of which nothing was measured.</summary>
    public RenderTimeFamily NewFamily => unmeasured.Value;

    /// <summary>A family of which a few rows were measured; they move its predictions and narrow its bands.</summary>
    /// <param name="rows">Its rows, at most 1,000.</param>
    /// <param name="family">The family.</param>
    /// <param name="violation">What is wrong with a row.</param>
    public bool TryMeasuredFamily(IReadOnlyList<OwnRow> rows, out RenderTimeFamily? family, out RowViolation violation)
    {
        family = null;
        violation = default;
        if (rows.Count > OwnRow.MaximumRows)
        {
            violation = new("own_rows", $"there are {rows.Count}; allowed is 0 to {OwnRow.MaximumRows}");
            return false;
        }

        // Repeats of a setting count as one row: they say the same thing about the family.
        SortedDictionary<int, (double Sum, int Count)> errors = [];
        for (int i = 0; i < rows.Count; i++)
        {
            if (!(rows[i].SecondsPerFrame > 0 && rows[i].SecondsPerFrame <= BenchmarkTableBuilder.MaximumSecondsPerFrame))
            {
                violation = new($"own_rows[{i}].seconds_per_frame", $"{rows[i].SecondsPerFrame} s; allowed is above 0 up to {BenchmarkTableBuilder.MaximumSecondsPerFrame}");
                return false;
            }

            if (!TryRead(rows[i].Features, out Question? question, out violation))
            {
                violation = violation with { Field = $"own_rows[{i}].{violation.Field}" };
                return false;
            }

            (double sum, int count) = errors.GetValueOrDefault(question!.Setting);
            errors[question.Setting] = (sum + Math.Log(rows[i].SecondsPerFrame) - question.Log, count + 1);
        }

        family = new(this, parts.Errors.Condition([.. errors.Keys], [.. errors.Values.Select(e => e.Sum / e.Count)]), rows.Count);
        return true;
    }

    /// <summary>Predicts seconds per frame of a family of which nothing was measured.</summary>
    /// <param name="features">Values by column name; numbers in invariant notation, empty where missing.</param>
    /// <param name="coverage">The part of rows of unseen families that the band should cover, above 0 and below 1.</param>
    /// <param name="estimate">The answer.</param>
    /// <param name="violation">What is wrong with the question.</param>
    public bool TryPredict(
        IReadOnlyDictionary<string, string> features, double coverage, out RenderTimeEstimate? estimate, out RowViolation violation) =>
        NewFamily.TryPredict(features, coverage, out estimate, out violation);

    internal static RenderTimeModel FromParts(ModelParts parts) => new(parts);

    internal ModelParts ToParts() => parts;

    internal bool TryRead(IReadOnlyDictionary<string, string> features, out Question? question, out RowViolation violation)
    {
        question = null;
        double[] numbers = new double[parts.Encoder.Numbers.Length];
        int[] codes = new int[parts.Encoder.Categories.Length];
        if (!TryReadValues(features, numbers, codes, out violation))
        {
            return false;
        }

        string[] categories = [.. parts.Encoder.Categories.Select((c, i) => c.Levels[codes[i]])];
        int setting = settings.GetValueOrDefault(parts.Columns.Key(numbers, categories), -1);
        if (parts.Profile is null)
        {
            question = new(
                parts.Predictor!.Predict(parts.Encoder.Encode(numbers, codes)),
                setting,
                parts.Domain.Locate(parts.Encoder, numbers, categories),
                [.. parts.Encoder.Numbers.Where((_, i) => double.IsNaN(numbers[i])).Select(n => n.Name)]);
            return true;
        }

        if (setting < 0)
        {
            violation = new("features", $"this combination of {string.Join(", ", parts.SettingNames())} was never measured; {parts.Settings.Length} combinations were");
            return false;
        }

        double[] own = [.. parts.FamilyNumbers().Select(i => numbers[i])];
        string[] ownCategories = [.. parts.FamilyCategories().Select(i => categories[i])];
        FeatureEncoder encoder = parts.Profile.Scaling.Encoder;
        int[] ownCodes = [.. ownCategories.Select((value, i) => encoder.Categories[i].Levels.IndexOf(value))];
        question = new(
            parts.Profile.Predict(encoder.Encode(own, ownCodes))[setting],
            setting,
            parts.Domain.Locate(encoder, own, ownCategories),
            [.. encoder.Numbers.Where((_, i) => double.IsNaN(own[i])).Select(n => n.Name)]);
        return true;
    }

    private bool TryReadValues(IReadOnlyDictionary<string, string> features, double[] numbers, int[] codes, out RowViolation violation)
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

    /// <summary>A question that was read.</summary>
    /// <param name="Log">Predicted log seconds per frame, before any row of the family is taken into account.</param>
    /// <param name="Setting">Which setting; −1 for one never measured.</param>
    /// <param name="Place">Where it lies in the measured domain.</param>
    /// <param name="Missing">Names of missing numbers.</param>
    internal sealed record Question(double Log, int Setting, DomainAnswer Place, IReadOnlyList<string> Missing);
}
