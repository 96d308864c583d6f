using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Footage.Tapes;
using PostPipeline.Quantities;
using Rational = PostPipeline.Quantities.Rational;
using TapeMessage = PostPipeline.Contracts.Footage.V1.TapePlan;
using TapePlan = PostPipeline.Footage.Tapes.TapePlan;

namespace PostPipeline.Footage.Service.Offload;

/// <summary>Reads volumes and writes the tapes they need.</summary>
internal static class TapeAnswers
{
    // Common practice: 70 to 80 % of the native rate where nothing was measured.
    private static readonly Rational UsualPartOfNativeRate = new(3, 4);

    public static TapeMessage? Answer(TapeItem item, ItemProblems problems, bool explain)
    {
        int oldest = TapeGeneration.All[0].Generation;
        int newest = TapeGeneration.All[^1].Generation;
        problems.Label(item.Label);
        problems.InRange("bytes", item.Bytes, 0, long.MaxValue);
        Rational other = problems.Fraction("other_part", item.OtherPart, 0, 10, Rational.Zero);
        problems.InRange("generation", item.Generation, oldest, newest);
        problems.InRange("drive_bytes_per_second", item.DriveBytesPerSecond, 0, 1e12);
        problems.InRange("sets", item.Sets, 0, 10);
        Rational fill = problems.Fraction("fill", item.Fill, 0, 1, TapePlan.DefaultFill, openLow: true);
        problems.InRange("drives", item.Drives, 0, 1000);
        if (item.ReadBackGeneration != 0)
        {
            problems.InRange("read_back_generation", item.ReadBackGeneration, oldest, newest);
        }

        if (!problems.None)
        {
            return null;
        }

        TapeGeneration tape = TapeGeneration.Find(item.Generation);
        DataRate rate = item.DriveBytesPerSecond >= 1
            ? DataRate.FromBytesPerSecond((long)item.DriveBytesPerSecond)
            : DataRate.FromBytesPerSecond(tape.Rate.BytesPerSecond * UsualPartOfNativeRate);
        TapePlan plan = TapePlan.Of(DataSize.FromBytes(item.Bytes), other, tape, rate, item.Sets == 0 ? 2 : item.Sets, !item.SkipVerify, fill, item.Calibrate);
        TapeMessage message = new()
        {
            Bytes = plan.Volume.Bytes,
            CartridgesExact = plan.CartridgesExact.ToDouble(),
            CartridgesPerSet = plan.CartridgesPerSet,
            Cartridges = plan.Cartridges,
            DriveHours = plan.DriveHours.ToDouble(),
            ClockHours = plan.ClockHours(Math.Max(1, item.Drives)).ToDouble(),
            ReadBack = item.ReadBackGeneration == 0 ? Verdict.Unknown : Wire.Of(TapeGeneration.Find(item.ReadBackGeneration).Reads(item.Generation)),
            Source = tape.Source,
            Derivation = explain
                ? Wire.Of(TapeExplanation.Of(plan, DataSize.FromBytes(item.Bytes), other, tape, fill, rate, !item.SkipVerify, assumedRate: item.DriveBytesPerSecond < 1))
                : null,
        };
        if (other.Sign > 0)
        {
            message.Margins.Add("other material");
        }

        if (fill < 1)
        {
            message.Margins.Add("cartridge fill");
        }

        if (item.DriveBytesPerSecond < 1)
        {
            message.Margins.Add("drive speed in practice");
        }

        return message;
    }
}
