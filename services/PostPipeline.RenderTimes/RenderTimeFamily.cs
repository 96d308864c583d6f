using PostPipeline.RenderTimes.Intervals;

namespace PostPipeline.RenderTimes;

/// <summary>One family (a project, a clip) as a model sees it: new, or new with a few rows measured.</summary>
public sealed class RenderTimeFamily
{
    private readonly RenderTimeModel model;
    private readonly FamilyShift shift;

    internal RenderTimeFamily(RenderTimeModel model, FamilyShift shift, int ownRows)
    {
        this.model = model;
        this.shift = shift;
        OwnRows = ownRows;
    }

    /// <summary>How many rows of the family were measured.</summary>
    public int OwnRows { get; }

    /// <summary>Predicts seconds per frame.</summary>
    /// <param name="features">Values by column name; numbers in invariant notation, empty where missing.</param>
    /// <param name="coverage">The part of rows of unseen families that the band should cover, above 0 and below 1.</param>
    /// <param name="estimate">The answer.</param>
    /// <param name="violation">What is wrong with the question.</param>
    public bool TryPredict(
        IReadOnlyDictionary<string, string> features, double coverage, out RenderTimeEstimate? estimate, out RowViolation violation)
    {
        estimate = null;
        if (!model.TryRead(features, out RenderTimeModel.Question? question, out violation))
        {
            return false;
        }

        double log = question!.Log + shift.At(question.Setting);
        double deviation = shift.Deviation(question.Setting) * question.Place.Widening;
        List<string> notes = Notes(question);
        (double low, double high, bool refused) = Band(shift.Width(coverage) * deviation, coverage, shift.Calibration, notes);
        estimate = new(Math.Exp(log), Math.Exp(log + low), Math.Exp(log + high), refused, deviation, question.Place.Outside, notes);
        return true;
    }

    /// <summary>
    /// Predicts the total of many clips of the family. The band is the total's own: for each calibration family the
    /// same mix of settings is added up, so that what clips have in common does not average out.
    /// </summary>
    /// <param name="clips">Features and frames of each clip.</param>
    /// <param name="coverage">The part of unseen families whose total the band should cover, above 0 and below 1.</param>
    /// <param name="estimate">Seconds on one node, in place of seconds per frame.</param>
    /// <param name="violation">What is wrong with a clip.</param>
    public bool TryPredictTotal(IReadOnlyList<ClipWork> clips, double coverage, out RenderTimeEstimate? estimate, out RowViolation violation)
    {
        estimate = null;
        violation = default;
        double total = 0;
        double widening = 1;
        bool outside = false;
        SortedSet<string> notes = new(StringComparer.Ordinal);
        SortedDictionary<int, double> work = [];
        for (int i = 0; i < clips.Count; i++)
        {
            if (clips[i].Frames < 0)
            {
                violation = new($"clips[{i}].frames", $"{clips[i].Frames}; allowed is 0 or more");
                return false;
            }

            if (!model.TryRead(clips[i].Features, out RenderTimeModel.Question? question, out violation))
            {
                violation = violation with { Field = $"clips[{i}].{violation.Field}" };
                return false;
            }

            double seconds = clips[i].Frames * Math.Exp(question!.Log + shift.At(question.Setting));
            total += seconds;
            work[question.Setting] = work.GetValueOrDefault(question.Setting) + seconds;
            widening = Math.Max(widening, question.Place.Widening);
            outside |= question.Place.Outside;
            notes.UnionWith(Notes(question));
        }

        List<string> all = [.. notes];
        double[] scores = shift.TotalErrors([.. work.Select(w => (w.Key, total > 0 ? w.Value / total : 0))]);
        double? half = HierarchicalConformal.HalfWidth([.. scores.Select(s => new[] { Math.Abs(s) })], coverage) * widening;
        (double low, double high, bool refused) = Band(half, coverage, scores, all);
        double deviation = Math.Sqrt(scores.Select(s => s * s).DefaultIfEmpty(0).Average()) * widening;
        estimate = new(total, total * Math.Exp(low), total * Math.Exp(high), refused, deviation, outside, all);
        return true;
    }

    private static (double Low, double High, bool Refused) Band(double? half, double coverage, double[] errors, List<string> notes)
    {
        if (half is double width)
        {
            return (-width, width, false);
        }

        notes.Add(
            $"{errors.Length} families are too few to promise {100 * coverage:0.#} % ({HierarchicalConformal.FewestFamilies(coverage)} are needed); "
            + "the ends are the range of measured ÷ predicted on the families held out");
        return (errors.DefaultIfEmpty(0).Min(), errors.DefaultIfEmpty(0).Max(), true);
    }

    private List<string> Notes(RenderTimeModel.Question question)
    {
        List<string> notes = [.. question.Place.Notes];
        if (model.Record.Invented)
        {
            notes.Add("rests on invented rows");
        }

        notes.AddRange(question.Missing.Select(name => $"{name} is missing"));
        if (question.Setting < 0 && model.Record.Families > 0 && !question.Place.Outside)
        {
            notes.Add("this combination of categories was not measured");
        }

        return notes;
    }
}
