using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Hosting.Validation;
using Coding = PostPipeline.Footage.Codings.Coding;
using FrameRate = PostPipeline.Quantities.FrameRate;
using Raster = PostPipeline.Quantities.Raster;
using RateEstimate = PostPipeline.Footage.Rates.RateEstimate;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>Answers modes in columns. A message of numbers costs a tenth of one with an object for each mode.</summary>
internal static class RateColumns
{
    /// <summary>The most modes of one request.</summary>
    public const int MaximumModes = 100_000;

    private const int BetweenLooks = 4096;

    public static EstimateRateColumnsResponse Answer(EstimateRateColumnsRequest request, CodingReader reader, Violations violations, CancellationToken cancellationToken)
    {
        int modes = request.CodingIndexes.Count;
        violations.Count("codings", request.Codings.Count, 0, Batch.MaximumItems);
        violations.Count("coding_indexes", modes, 0, MaximumModes);
        foreach ((string column, int count) in (ReadOnlySpan<(string, int)>)[
            ("widths", request.Widths.Count), ("heights", request.Heights.Count), ("rate_numerators", request.RateNumerators.Count), ("rate_denominators", request.RateDenominators.Count)])
        {
            violations.Require(column, count == modes, $"has {count} entries; coding_indexes has {modes}");
        }

        violations.ThrowIfAny();
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
        response.BytesPerFrame.Capacity = modes;
        response.PeakBytesPerFrame.Capacity = modes;
        response.BytesPerSecond.Capacity = modes;
        response.PeakBytesPerSecond.Capacity = modes;
        RateCache rates = new();
        for (int i = 0; i < modes; i++)
        {
            if (i % BetweenLooks == 0)
            {
                cancellationToken.ThrowIfCancellationRequested();
            }

            int index = request.CodingIndexes[i];
            int width = request.Widths[i];
            int height = request.Heights[i];
            long numerator = request.RateNumerators[i];
            long denominator = request.RateDenominators[i];
            bool good = index >= 0 && index < codings.Length && width is >= 1 and <= Raster.MaximumSide && height is >= 1 and <= Raster.MaximumSide
                && denominator >= 1 && numerator >= 1 && numerator / denominator < FrameRate.MaximumFramesPerSecond;
            problems.Clear();
            if (!good || codings[index] is not { } coding || !Add(response, coding, Raster.From(width, height), rates.Of(numerator, denominator), problems))
            {
                response.Errors.Add(new ColumnError { Index = i, Error = good && refused[index] is { } error ? error.Clone() : Why(request, i, codings.Length, problems) });
                Fill(response, 0, 0, 0, 0);
            }
        }

        return response;
    }

    private static bool Add(EstimateRateColumnsResponse response, Coding coding, Raster raster, FrameRate rate, ItemProblems problems)
    {
        try
        {
            RateEstimate estimate = RateEstimate.Of(coding, raster, rate);
            long average = estimate.PictureBytesPerSecond;
            Fill(response, estimate.Frame.Average, estimate.Frame.Peak, average, estimate.Frame.Peak == estimate.Frame.Average ? average : estimate.PicturePeakBytesPerSecond);
            return true;
        }
        catch (ArgumentException refusal)
        {
            int end = refusal.Message.IndexOf(" (Parameter '", StringComparison.Ordinal);
            problems.Add(string.Empty, end < 0 ? refusal.Message : refusal.Message[..end]);
        }
        catch (OverflowException)
        {
            problems.Add(string.Empty, "a result goes beyond what 64 bits hold (9.2 EB for bytes)");
        }

        return false;
    }

    private static void Fill(EstimateRateColumnsResponse response, long frame, long peakFrame, long second, long peakSecond)
    {
        response.BytesPerFrame.Add(frame);
        response.PeakBytesPerFrame.Add(peakFrame);
        response.BytesPerSecond.Add(second);
        response.PeakBytesPerSecond.Add(peakSecond);
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

    // A table has few rates, and bringing one to lowest terms is the dearest step of a mode.
    private sealed class RateCache
    {
        private readonly Dictionary<(long Numerator, long Denominator), FrameRate> rates = [];
        private (long Numerator, long Denominator) last;
        private FrameRate lastRate;

        public FrameRate Of(long numerator, long denominator)
        {
            (long Numerator, long Denominator) key = (numerator, denominator);
            if (key != last)
            {
                if (!rates.TryGetValue(key, out lastRate))
                {
                    lastRate = FrameRate.From(numerator, denominator);
                    rates.Add(key, lastRate);
                }

                last = key;
            }

            return lastRate;
        }
    }
}
