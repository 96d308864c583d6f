using Grpc.Core;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using Coding = PostPipeline.Footage.Codings.Coding;
using Rational = PostPipeline.Quantities.Rational;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>How many bytes pictures make, and whether media can take them.</summary>
public sealed class FootageGrpcService : FootageService.FootageServiceBase
{
    /// <inheritdoc/>
    public override Task<EstimateRatesResponse> EstimateRates(EstimateRatesRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.Count("items", request.Items.Count, 0, Batch.MaximumItems);
        CodingCatalogue catalogue = Catalogue(request.OwnCodings, violations);
        violations.ThrowIfAny();
        Func<RateItem, ItemProblems, Contracts.Footage.V1.RateEstimate?> answer = new RateAnswers(new CodingReader(catalogue), request.Explain).Answer;
        ItemProblems problems = new();
        EstimateRatesResponse response = new();
        response.Results.Capacity = request.Items.Count;
        foreach (RateItem item in request.Items)
        {
            RateResult result = new() { Label = item.Label };
            if (Batch.Answer(item, problems, answer, out ItemError? error) is { } estimate)
            {
                result.Estimate = estimate;
            }
            else
            {
                result.Error = error;
            }

            response.Results.Add(result);
        }

        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<EstimateRateColumnsResponse> EstimateRateColumns(EstimateRateColumnsRequest request, ServerCallContext context)
    {
        Violations violations = new();
        CodingCatalogue catalogue = Catalogue(request.OwnCodings, violations);
        return Task.FromResult(RateColumns.Answer(request, new CodingReader(catalogue), violations, context.CancellationToken));
    }

    /// <inheritdoc/>
    public override Task<AssessRecordingsResponse> AssessRecordings(AssessRecordingsRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.Count("items", request.Items.Count, 0, Batch.MaximumItems);
        violations.ThrowIfAny();
        Func<RecordingItem, ItemProblems, RecordingAssessment?> answer = new RecordingAnswers(request.Explain).Answer;
        ItemProblems problems = new();
        AssessRecordingsResponse response = new();
        foreach (RecordingItem item in request.Items)
        {
            RecordingResult result = new() { Label = item.Label };
            if (Batch.Answer(item, problems, answer, out ItemError? error) is { } assessment)
            {
                result.Assessment = assessment;
            }
            else
            {
                result.Error = error;
            }

            response.Results.Add(result);
        }

        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<ListCodingsResponse> ListCodings(ListCodingsRequest request, ServerCallContext context)
    {
        Violations violations = new();
        CodingCatalogue catalogue = Catalogue(request.OwnCodings, violations);
        violations.ThrowIfAny();
        ItemProblems problems = new();
        Quantities.Raster? raster = request.Raster is null ? null : problems.Raster("raster", request.Raster);
        Quantities.FrameRate rate = request.Rate is null ? Quantities.FrameRate.Fps24 : problems.Rate("rate", request.Rate);
        problems.ThrowIfAny();
        ListCodingsResponse response = new();
        response.Codings.AddRange(catalogue.Codings.Select(c => CodingEntries.Of(c, raster, rate, request.Explain)));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<SumModesResponse> SumModes(SumModesRequest request, ServerCallContext context)
    {
        Violations violations = new();
        CodingCatalogue catalogue = Catalogue(request.OwnCodings, violations);
        violations.ThrowIfAny();
        ModesAnswers answers = new(new RateAnswers(new CodingReader(catalogue), explain: false), request.Explain);
        SumModesResponse response = new();
        response.Results.AddRange(Batch.Answers(request.Items, answers.Answer, static (i, v, e) =>
            v is null ? new ModesResult { Label = i.Label, Error = e } : new ModesResult { Label = i.Label, Total = v }));
        foreach (ModesResult result in response.Results)
        {
            response.Bytes = checked(response.Bytes + (result.Total?.Bytes ?? 0));
        }

        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<CutTakesResponse> CutTakes(CutTakesRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.Count("items", request.Items.Count, 0, Batch.MaximumItems);
        violations.Count("items.take_frames", request.Items.Sum(i => i.TakeFrames.Count), 0, 10 * Batch.MaximumItems);
        violations.ThrowIfAny();
        ItemProblems problems = new();
        CutTakesResponse response = new();
        foreach (TakesItem item in request.Items)
        {
            TakesResult result = new() { Label = item.Label };
            if (Batch.Answer(item, problems, (i, p) => TakesAnswers.Answer(i, p, request.Explain), out ItemError? error) is { } tally)
            {
                result.Tally = tally;
            }
            else
            {
                result.Error = error;
            }

            response.Results.Add(result);
        }

        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<CompareVolumesResponse> CompareVolumes(CompareVolumesRequest request, ServerCallContext context)
    {
        ItemProblems problems = new();
        problems.InRange("days", request.Days, 1, 366);
        problems.InRange("cameras", request.Cameras, 1, 1000);
        Rational hours = problems.Fraction("hours_per_camera_day", request.HoursPerCameraDay, 0, 24, null, openLow: true);
        Rational finished = problems.Fraction("finished_seconds", request.FinishedSeconds, 0, 366 * 86_400L, null, openLow: true);
        Rational ratio = problems.Fraction("shooting_ratio", request.ShootingRatio, 0, 1_000_000, null, openLow: true);
        Rational rate = problems.Fraction("bytes_per_second", request.BytesPerSecond, 0, 1_000_000_000_000, null, openLow: true);
        problems.ThrowIfAny();
        Violations violations = new();
        VolumeEstimates volumes = violations.Check(
            FieldPath.Root, () => VolumeEstimates.Of(request.Days, request.Cameras, hours, finished, ratio, DataRate.FromBytesPerSecond(rate)));
        violations.ThrowIfAny();
        return Task.FromResult(new CompareVolumesResponse
        {
            BytesByDays = volumes.ByDays,
            BytesByRatio = volumes.ByRatio,
            ImpliedRatio = volumes.ImpliedRatio.ToDouble(),
            Apart = volumes.Apart.ToDouble(),
            Flagged = volumes.Flagged,
            Derivation = request.Explain ? Wire.Of(VolumeExplanation.Of(volumes, request.Days, request.Cameras, hours, finished, DataRate.FromBytesPerSecond(rate))) : null,
        });
    }

    private static CodingCatalogue Catalogue(string ownCodings, Violations violations)
    {
        if (ownCodings.Length == 0)
        {
            return CodingCatalogue.Standard;
        }

        IReadOnlyList<FileProblem> problems = CodingFile.Read(ownCodings, out IReadOnlyList<Coding> own);
        foreach (FileProblem problem in problems)
        {
            violations.Add("own_codings", problem.ToString());
        }

        return CodingCatalogue.Standard.With(own);
    }
}
