using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.RenderTimes;

namespace PostPipeline.Rendering.Service.RenderTimes;

/// <summary>Between the contract's messages and the domain's models and estimates.</summary>
internal static class RenderTimeMapping
{
    public static TrainModelResponse ToResponse(this ModelRecord record) => new()
    {
        ModelId = record.Id,
        Rows = record.Rows,
        Families = record.Families,
        HeldOutMedianPercent = record.HeldOut.MedianPercent,
        HeldOutMeanPercent = record.HeldOut.MeanPercent,
        HeldOutBiasPercent = record.HeldOut.BiasPercent,
        BaselineMedianPercent = record.Baseline.MedianPercent,
        Kind = record.Kind,
        Invented = record.Invented,
    };

    public static GetModelResponse ToDescription(this RenderTimeModel model)
    {
        ModelRecord record = model.Record;
        GetModelResponse response = new()
        {
            Model = record.ToResponse(),
            SetId = record.DataHash,
            Seed = record.Seed,
            ValidatedDomain = model.ValidatedDomain,
            Worst5Percent = record.HeldOut.Worst5Percent,
        };
        response.CategoryColumns.AddRange(model.Schema.CategoryColumns);
        response.NumberColumns.AddRange(model.Schema.NumberColumns);
        response.Candidates.AddRange(record.Candidates.Select(c => new CandidateErrors
        {
            Kind = c.Kind,
            MedianPercent = c.HeldOut.MedianPercent,
            MeanPercent = c.HeldOut.MeanPercent,
            LogStandardDeviation = c.HeldOut.LogDeviation,
        }));
        response.Importance.AddRange(record.Importance.Select(i => new Contracts.Rendering.V1.FeatureImportance { Feature = i.Feature, Increase = i.Increase }));
        foreach (PostPipeline.RenderTimes.PartialDependence d in record.Dependence)
        {
            Contracts.Rendering.V1.PartialDependence dependence = new() { Feature = d.Feature };
            dependence.Values.AddRange(d.Values);
            dependence.SecondsPerFrame.AddRange(d.SecondsPerFrame);
            response.Dependence.Add(dependence);
        }

        return response;
    }

    public static CompareModelsResponse ToResponse(this ModelComparison comparison, bool invented) => new()
    {
        First = comparison.First.ToMessage(),
        Second = comparison.Second.ToMessage(),
        Rows = comparison.Rows,
        Families = comparison.Families,
        FamiliesHeldOut = comparison.FamiliesHeldOut,
        RowsLeftOut = comparison.RowsLeftOut,
        LeftOutBecause = comparison.LeftOutBecause,
        DifferencePercent = comparison.DifferencePercent,
        DifferenceLowPercent = comparison.DifferenceLow,
        DifferenceHighPercent = comparison.DifferenceHigh,
        Better = comparison.Better switch
        {
            PostPipeline.RenderTimes.BetterModel.First => Contracts.Rendering.V1.BetterModel.First,
            PostPipeline.RenderTimes.BetterModel.Second => Contracts.Rendering.V1.BetterModel.Second,
            _ => Contracts.Rendering.V1.BetterModel.Unspecified,
        },
        Invented = invented,
    };

    public static PredictTotalResponse ToTotal(this RenderTimeEstimate estimate, RenderTimeModel model)
    {
        PredictTotalResponse response = new()
        {
            TotalSeconds = estimate.SecondsPerFrame,
            LowSeconds = estimate.Low,
            HighSeconds = estimate.High,
            IntervalRefused = estimate.IntervalRefused,
            OutsideMeasured = estimate.OutsideMeasured,
            ModelId = model.Record.Id,
            Invented = model.Record.Invented,
            ValidatedDomain = model.ValidatedDomain,
        };
        response.Notes.AddRange(estimate.Notes);
        return response;
    }

    public static RenderTimeResult ToResult(this RowViolation violation, string label) =>
        new() { Label = label, Error = new ItemError { Field = violation.Field, Description = violation.Description } };

    public static RenderTimeResult ToResult(this RenderTimeEstimate estimate, string label, Derivation? derivation)
    {
        RenderTimePrediction prediction = new()
        {
            SecondsPerFrame = estimate.SecondsPerFrame,
            LowSecondsPerFrame = estimate.Low,
            HighSecondsPerFrame = estimate.High,
            IntervalRefused = estimate.IntervalRefused,
            LogStandardDeviation = estimate.LogDeviation,
            OutsideMeasured = estimate.OutsideMeasured,
            Derivation = derivation,
        };
        prediction.Notes.AddRange(estimate.Notes);
        return new() { Label = label, Prediction = prediction };
    }

    public static Derivation Derive(RenderTimeModel model, RenderQuery query, RenderTimeEstimate estimate, double coverage, int ownRows)
    {
        Known known = model.Record.Invented ? Known.Invented : Known.Measured;
        string origin = $"model {model.Record.Id[..12]} on benchmark set {model.Record.DataHash[..12]}";
        Derivation root = new()
        {
            Name = "seconds per frame",
            Formula = $"exp(predicted log seconds per frame), {model.Record.Kind}",
            Substituted = FormattableString.Invariant($"exp({Math.Log(estimate.SecondsPerFrame):F4})"),
            Value = FormattableString.Invariant($"{estimate.SecondsPerFrame:R}"),
            Unit = "s",
            Source = origin,
            Known = known,
        };
        if (ownRows > 0)
        {
            root.Inputs.Add(new Derivation { Name = "rows of this family that move the prediction", Value = $"{ownRows}", Source = "query", Known = Known.Measured });
        }

        foreach ((string name, string value) in query.Features.OrderBy(f => f.Key, StringComparer.Ordinal))
        {
            root.Inputs.Add(new Derivation { Name = name, Value = value, Source = "query" });
        }

        root.Inputs.Add(new Derivation
        {
            Name = estimate.IntervalRefused ? "range of measured ÷ predicted on held-out families" : "half-width of the band, as a factor",
            Formula = estimate.IntervalRefused ? "smallest and largest ratio" : FormattableString.Invariant($"conformal over {model.Record.Families} held-out families, coverage {coverage:0.###}"),
            Value = FormattableString.Invariant($"{estimate.High / estimate.SecondsPerFrame:R}"),
            Source = origin,
            Known = known,
        });
        return root;
    }

    private static ComparedModel ToMessage(this ModelErrors errors)
    {
        ComparedModel model = new()
        {
            ModelId = errors.ModelId,
            MedianPercent = errors.HeldOut.MedianPercent,
            MeanPercent = errors.HeldOut.MeanPercent,
            BiasPercent = errors.HeldOut.BiasPercent,
            Worst5Percent = errors.HeldOut.Worst5Percent,
        };
        if (errors.BandCoverage is double covered)
        {
            model.BandCoverage = covered;
        }

        return model;
    }
}
