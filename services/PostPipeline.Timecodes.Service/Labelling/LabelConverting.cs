using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>Reads a request to carry labels to another rate, and answers it.</summary>
internal static class LabelConverting
{
    /// <summary>The labels at the other rate.</summary>
    /// <exception cref="InvalidRequestException">The request itself is wrong; wrong labels are answered one by one.</exception>
    public static Wire.ConvertLabelsResponse Convert(Wire.ConvertLabelsRequest request)
    {
        Violations violations = new();
        LabelReader reader = new(violations);
        TimecodeFormat? from = reader.Format("from", request.From);
        TimecodeFormat? to = reader.Format("to", request.To);
        violations.Specified("basis", request.Basis);
        violations.Require("rounding", Enum.IsDefined(request.Rounding), $"is {(int)request.Rounding}; allowed is one of {string.Join(", ", Enum.GetNames<Wire.FrameRounding>())}");
        Timecode? fromAnchor = reader.LabelOrZero("from_anchor", request.FromAnchor, from);
        Timecode? toAnchor = reader.LabelOrZero("to_anchor", request.ToAnchor, to);
        reader.Rows("labels", request.Labels, request.LabelWidth);
        long denominator = from is null || to is null ? 1 : violations.Check("to.rate", () => CommonDenominator(from.Rate, to.Rate));
        violations.ThrowIfAny();

        LabelConversion conversion = new(fromAnchor!.Value, toAnchor!.Value, Basis(request.Basis), Rounding(request.Rounding));
        Wire.ConvertLabelsResponse response = new() { LabelWidth = to!.LabelLength, RoundingDenominator = denominator };
        long[] indexes = LabelRows.Read(from!, request.Labels, request.LabelWidth, request.SnapDroppedForward, "labels", response.Errors);
        ConvertedLabel converted = default;
        for (int i = 0; i < indexes.Length; i++)
        {
            bool read = indexes[i] != LabelBatch.NoFrame && TryConvert(conversion, indexes[i], i, response, out converted);
            response.FramesFromAnchor.Add(read ? converted.FramesFromAnchor : LabelBatch.NoFrame);
            response.RoundingNumerators.Add(read ? converted.RoundingSeconds.Numerator * (denominator / converted.RoundingSeconds.Denominator) : 0);
            indexes[i] = read ? converted.Label.FrameIndex : LabelBatch.NoFrame;
        }

        response.Labels = LabelRows.WriteKnown(to, indexes);
        return response;
    }

    private static bool TryConvert(LabelConversion conversion, long frameIndex, int place, Wire.ConvertLabelsResponse response, out ConvertedLabel converted)
    {
        try
        {
            converted = conversion.Convert(Timecode.FromFrames(frameIndex, conversion.FromAnchor.Format));
            return true;
        }
        catch (OverflowException)
        {
            converted = default;
            response.Errors.Add(new Wire.LabelError { Index = place, Field = "labels", Description = "the exact time does not fit fractions of 64 bits at these two rates" });
            return false;
        }
    }

    // Start times are multiples of d₁/n₁ and d₂/n₂ seconds, so differences are multiples of 1/lcm(n₁, n₂).
    // n₁/n₂ in lowest terms is a/b, so lcm(n₁, n₂) = a·n₂.
    private static long CommonDenominator(FrameRate from, FrameRate to) => new Rational(from.Numerator, to.Numerator).Numerator * to.Numerator;

    private static ConversionBasis Basis(Wire.ConversionBasis basis) =>
        basis == Wire.ConversionBasis.FrameCount ? ConversionBasis.FrameCount : ConversionBasis.ElapsedTime;

    private static FrameRounding Rounding(Wire.FrameRounding rounding) => rounding switch
    {
        Wire.FrameRounding.Nearest => FrameRounding.Nearest,
        Wire.FrameRounding.Up => FrameRounding.Up,
        _ => FrameRounding.Down,
    };
}
