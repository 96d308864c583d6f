using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Seats;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Quantities;
using CheckMessage = PostPipeline.Contracts.Footage.V1.SeatCheck;
using SeatCheck = PostPipeline.Footage.Seats.SeatCheck;
using SeatVerdict = PostPipeline.Footage.Seats.SeatVerdict;
using VerdictMessage = PostPipeline.Contracts.Footage.V1.SeatVerdict;

namespace PostPipeline.Footage.Service.Storage;

/// <summary>Reads workstations and writes whether they can cut originals.</summary>
internal static class SeatAnswers
{
    public static CheckMessage? Answer(SeatItem item, ItemProblems problems, bool explain)
    {
        problems.Label(item.Label);
        problems.InRange("layers", item.Layers, 1, 64);
        FrameRate rate = problems.Rate("rate", item.Rate);
        problems.InRange("decoded_frame_bytes", item.DecodedFrameBytes, 0, 1L << 40);
        problems.InRange("frames_ready", item.FramesReady, 0, 10_000);
        problems.InRange("memory_bytes", item.MemoryBytes, 0, long.MaxValue);
        if (item.HasMeasuredFramesPerSecond)
        {
            problems.InRange("measured_frames_per_second", item.MeasuredFramesPerSecond, 0, 1e6);
        }

        if (!problems.None)
        {
            return null;
        }

        Rational? measured = item.HasMeasuredFramesPerSecond ? new Rational((long)Math.Round(item.MeasuredFramesPerSecond * 1000), 1000) : null;
        SeatCheck check = SeatCheck.Of(item.Layers, rate, measured, item.DecodedFrameBytes, item.FramesReady, item.MemoryBytes == 0 ? null : DataSize.FromBytes(item.MemoryBytes));
        return new()
        {
            Verdict = check.Verdict switch
            {
                SeatVerdict.Comfortable => VerdictMessage.Comfortable,
                SeatVerdict.Tight => VerdictMessage.Tight,
                SeatVerdict.Fails => VerdictMessage.Fails,
                _ => VerdictMessage.NotMeasured,
            },
            NeededFramesPerSecond = check.NeededFramesPerSecond.ToDouble(),
            Reserve = check.Reserve?.ToDouble() ?? 0,
            MemoryBytes = check.MemoryBytes,
            Derivation = explain ? Wire.Of(SeatExplanation.Of(check, item.Layers, rate)) : null,
        };
    }
}
