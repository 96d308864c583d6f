using Google.Protobuf;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Hosting.Validation;
using Coding = PostPipeline.Footage.Codings.Coding;
using FrameRate = PostPipeline.Quantities.FrameRate;
using Raster = PostPipeline.Quantities.Raster;
using RateEstimate = PostPipeline.Footage.Rates.RateEstimate;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>
/// Answers modes in columns. A message of numbers costs a tenth of one with an object for each mode; columns are read and
/// written as blocks of memory, so that a mode costs little more than its arithmetic.
/// </summary>
internal static class RateColumns
{
    /// <summary>The most modes of one request: both messages stay below the limit of a message.</summary>
    public const int MaximumModes = 50_000;

    /// <summary>The most modes of one request that are explained: a tree costs as much as a hundred modes.</summary>
    public const int MaximumExplained = 1000;

    private const int BetweenLooks = 4096;

    public static EstimateRateColumnsResponse Answer(EstimateRateColumnsRequest request, CodingReader reader, Violations violations, CancellationToken cancellationToken)
    {
        int modes = request.CodingIndexes.Count;
        Check(request, violations);
        ItemProblems problems = new();
        Coding?[] codings = new Coding?[request.Codings.Count];
        ItemError?[] refused = new ItemError?[codings.Length];
        for (int c = 0; c < codings.Length; c++)
        {
            problems.Clear();
            codings[c] = reader.Read(request.Codings[c], problems);
            refused[c] = problems.None ? null : problems.ToError();
        }

        EstimateRateColumnsResponse response = new();
        Input input = new(request);
        Output output = new(response, modes);
        RateCache rates = new();
        for (int i = 0; i < modes; i++)
        {
            if (i % BetweenLooks == 0)
            {
                cancellationToken.ThrowIfCancellationRequested();
            }

            int index = input.CodingIndexes[i];
            FrameRate rate = default;
            bool good = index >= 0 && index < codings.Length && IsSide(input.Widths[i]) && IsSide(input.Heights[i]) && rates.TryGet(input.Numerators[i], input.Denominators[i], out rate);
            problems.Clear();
            if (!good || codings[index] is not { } coding || !Estimate(coding, Raster.From(input.Widths[i], input.Heights[i]), rate, output, i, problems))
            {
                response.Errors.Add(new ColumnError { Index = i, Error = good && refused[index] is { } error ? error.Clone() : Why(request, i, codings.Length, problems) });
            }
        }

        Explain(request, codings, response);
        return response;
    }

    private static void Check(EstimateRateColumnsRequest request, Violations violations)
    {
        int modes = request.CodingIndexes.Count;
        violations.Count("codings", request.Codings.Count, 0, Batch.MaximumItems);
        violations.Count("coding_indexes", modes, 0, MaximumModes);
        foreach ((string column, int count) in (ReadOnlySpan<(string, int)>)[
            ("widths", request.Widths.Count), ("heights", request.Heights.Count), ("rate_numerators", request.RateNumerators.Count), ("rate_denominators", request.RateDenominators.Count)])
        {
            violations.Require(column, count == modes, $"has {count} entries; coding_indexes has {modes}");
        }

        violations.Count("explain_modes", request.ExplainModes.Count, 0, MaximumExplained);
        for (int i = 0; i < request.ExplainModes.Count; i++)
        {
            int mode = request.ExplainModes[i];
            if (mode < 0 || mode >= modes)
            {
                violations.Add(FieldPath.Of("explain_modes")[i], $"is {mode}; allowed is 0 to {modes - 1}, a mode of the request");
            }
        }

        violations.ThrowIfAny();
    }

    private static bool IsSide(int side) => side is >= 1 and <= Raster.MaximumSide;

    private static bool Estimate(Coding coding, Raster raster, FrameRate rate, Output output, int i, ItemProblems problems)
    {
        try
        {
            RateEstimate estimate = RateEstimate.Of(coding, raster, rate);
            FrameBytes frame = estimate.Frame;
            long second = estimate.PictureBytesPerSecond;
            long peakSecond = frame.Peak == frame.Average ? second : estimate.PicturePeakBytesPerSecond;
            output.Frame[i] = frame.Average;
            output.PeakFrame[i] = frame.Peak;
            output.Second[i] = second;
            output.PeakSecond[i] = peakSecond;
            return true;
        }
        catch (ArgumentException refusal)
        {
            problems.AddRefusal(refusal);
        }
        catch (OverflowException)
        {
            problems.AddOverflow();
        }

        return false;
    }

    private static ItemError Why(EstimateRateColumnsRequest request, int i, int codings, ItemProblems problems)
    {
        if (problems.None)
        {
            problems.InRange($"coding_indexes[{i}]", request.CodingIndexes[i], 0, codings - 1);
            problems.Raster($"modes[{i}]", new() { Width = request.Widths[i], Height = request.Heights[i] });
            problems.Rate($"modes[{i}].rate", new() { Numerator = request.RateNumerators[i], Denominator = request.RateDenominators[i] });
        }

        return problems.ToError();
    }

    private static void Explain(EstimateRateColumnsRequest request, Coding?[] codings, EstimateRateColumnsResponse response)
    {
        if (request.ExplainModes.Count == 0)
        {
            return;
        }

        HashSet<int> without = [.. response.Errors.Select(e => e.Index)];
        foreach (int i in request.ExplainModes.Where(i => !without.Contains(i)))
        {
            FrameRate rate = FrameRate.From(request.RateNumerators[i], request.RateDenominators[i]);
            RecordingMode mode = new(codings[request.CodingIndexes[i]]!, Raster.From(request.Widths[i], request.Heights[i]), rate);
            response.Derivations.Add(new ColumnDerivation { Index = i, Derivation = Wire.Of(RateExplanation.Of(mode, mode.Estimate())) });
        }
    }

    private readonly ref struct Input(EstimateRateColumnsRequest request)
    {
        public ReadOnlySpan<int> CodingIndexes { get; } = UnsafeCollectionOperations.AsSpan(request.CodingIndexes);

        public ReadOnlySpan<int> Widths { get; } = UnsafeCollectionOperations.AsSpan(request.Widths);

        public ReadOnlySpan<int> Heights { get; } = UnsafeCollectionOperations.AsSpan(request.Heights);

        public ReadOnlySpan<long> Numerators { get; } = UnsafeCollectionOperations.AsSpan(request.RateNumerators);

        public ReadOnlySpan<long> Denominators { get; } = UnsafeCollectionOperations.AsSpan(request.RateDenominators);
    }

    private readonly ref struct Output(EstimateRateColumnsResponse response, int modes)
    {
        public Span<long> Frame { get; } = Column(response.BytesPerFrame, modes);

        public Span<long> PeakFrame { get; } = Column(response.PeakBytesPerFrame, modes);

        public Span<long> Second { get; } = Column(response.BytesPerSecond, modes);

        public Span<long> PeakSecond { get; } = Column(response.PeakBytesPerSecond, modes);

        // A mode without a value keeps the zeros of a new column.
        private static Span<long> Column(Google.Protobuf.Collections.RepeatedField<long> column, int modes)
        {
            UnsafeCollectionOperations.SetCount(column, modes);
            return UnsafeCollectionOperations.AsSpan(column);
        }
    }

    // A table has few rates, and bringing one to lowest terms is the dearest step of a mode. One place for each of the
    // lowest bits of a rate's parts; two rates that meet there take turns.
    private sealed class RateCache
    {
        private const int Places = 64;
        private readonly (long Numerator, long Denominator, FrameRate Rate)[] places = new (long, long, FrameRate)[Places];

        public bool TryGet(long numerator, long denominator, out FrameRate rate)
        {
            ref (long Numerator, long Denominator, FrameRate Rate) place = ref places[(int)((numerator ^ (denominator << 3)) & (Places - 1))];
            if (place.Numerator == numerator && place.Denominator == denominator && denominator != 0)
            {
                rate = place.Rate;
                return true;
            }

            rate = default;
            if (denominator < 1 || numerator < 1 || numerator / denominator >= FrameRate.MaximumFramesPerSecond)
            {
                return false;
            }

            rate = FrameRate.From(numerator, denominator);
            place = (numerator, denominator, rate);
            return true;
        }
    }
}
