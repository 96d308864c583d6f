using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Recordings;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Quantities;
using BurstMessage = PostPipeline.Contracts.Footage.V1.BurstWindow;
using BurstWindow = PostPipeline.Footage.Recordings.BurstWindow;
using ClassMessage = PostPipeline.Contracts.Footage.V1.RecordingClass;
using DrainBehaviour = PostPipeline.Footage.Recordings.DrainBehaviour;
using DrainMessage = PostPipeline.Contracts.Footage.V1.DrainBehaviour;
using Verdict = PostPipeline.Contracts.Types.V1.Verdict;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>Reads modes on media and writes how they record.</summary>
internal sealed class RecordingAnswers(bool explain)
{
    private const double LongestSeconds = 1e6;

    public RecordingAssessment? Answer(RecordingItem item, ItemProblems problems)
    {
        problems.Label(item.Label);
        problems.InRange("bytes_per_frame", item.BytesPerFrame, 1, 1L << 40);
        if (item.PeakBytesPerFrame != 0)
        {
            problems.InRange("peak_bytes_per_frame", item.PeakBytesPerFrame, Math.Max(1, item.BytesPerFrame), 1L << 40);
        }

        FrameRate sensor = problems.Rate("sensor_rate", item.SensorRate);
        FrameRate project = item.ProjectRate is null ? sensor : problems.Rate("project_rate", item.ProjectRate);
        Rational audio = problems.Fraction("audio_bytes_per_second", item.AudioBytesPerSecond, 0, 1_000_000_000, Rational.Zero);
        Rational ratio = problems.Fraction("compression_ratio", item.CompressionRatio, 1, 1000, Rational.One);
        Raster raster = item.Raster is null ? default : problems.Raster("raster", item.Raster);
        if (item.Medium is null)
        {
            problems.Add("medium", "is not set");
            return null;
        }

        problems.InRange("medium.capacity_bytes", item.Medium.CapacityBytes, 1, long.MaxValue);
        Rational rated = problems.Fraction("medium.rated_bytes_per_second", item.Medium.RatedBytesPerSecond, 0, 1_000_000_000_000_000, null, openLow: true);
        Rational derating = problems.Fraction("medium.derating", item.Medium.Derating, 0, 1, WriteCeiling.DefaultDerating, openLow: true);
        Rational reserve = problems.Fraction("medium.reserve", item.Medium.Reserve, 0, new(999, 1000), Rational.Zero);
        if (!problems.None)
        {
            return null;
        }

        long peak = item.PeakBytesPerFrame == 0 ? item.BytesPerFrame : item.PeakBytesPerFrame;
        Evidence evidence = item.Evidence switch { Verdict.Pass => Evidence.Holds, Verdict.Fail => Evidence.Fails, _ => Evidence.Unknown };
        WriteCeiling ceiling = WriteCeiling.From(DataRate.FromBytesPerSecond(rated), derating);
        SustainedCheck check = SustainedCheck.Of(peak, sensor, audio, ceiling, evidence);
        CaptureBuffer? buffer = item.Buffer is null ? null : ReadBuffer(item.Buffer, check.Needed, ceiling, problems);
        if (!problems.None)
        {
            return null;
        }

        DataRate average = DataRate.FromBytesPerSecond((item.BytesPerFrame * sensor.FramesPerSecond) + audio);
        DataSize capacity = DataSize.FromBytes(item.Medium.CapacityBytes);
        MediaLife life = MediaLife.Of(capacity, average, sensor, project, reserve);
        BurstWindow? burst = check.WithinCeiling || buffer is null ? null : BurstWindow.Of(check.Needed, sensor, project, ceiling, buffer);
        RecordingAssessment answer = Write(check, life, burst, ratio, buffer is not null);
        if (item.Raster is not null && check.LargestRaster(raster) is { } largest)
        {
            answer.SustainableRaster = Wire.Of(largest);
        }

        if (explain)
        {
            answer.Derivation = Wire.Of(RecordingExplanation.Of(check, peak, sensor, audio, average, life, capacity, reserve, burst, buffer) with { BindingLimit = answer.BindingLimit, NextLimit = answer.NextLimit });
        }

        return answer;
    }

    private static CaptureBuffer? ReadBuffer(Contracts.Footage.V1.Buffer buffer, DataRate needed, WriteCeiling ceiling, ItemProblems problems)
    {
        Rational stated = problems.Seconds("buffer.stated_burst_seconds", buffer.StatedBurstSeconds, LongestSeconds);
        Rational reset = problems.Seconds("buffer.reset_seconds", buffer.ResetSeconds, LongestSeconds);
        Rational trigger = problems.Fraction("buffer.trigger_position", buffer.TriggerPosition, 0, 1, Rational.Zero);
        problems.InRange("buffer.capacity_bytes", buffer.CapacityBytes, 0, long.MaxValue);
        problems.InRange("buffer.partitions", buffer.Partitions, 0, 1024);
        Rational again = problems.Seconds("buffer.stated_ready_again_seconds", buffer.StatedReadyAgainSeconds, LongestSeconds);
        if ((buffer.CapacityBytes == 0 ? 0 : 1) + (buffer.StatedBurstSeconds == 0 ? 0 : 1) + (buffer.StatedReadyAgainSeconds == 0 ? 0 : 1) != 1)
        {
            problems.Add(
                "buffer.capacity_bytes",
                $"is {buffer.CapacityBytes}, stated_burst_seconds is {buffer.StatedBurstSeconds} and stated_ready_again_seconds is {buffer.StatedReadyAgainSeconds}; exactly one of them must be above 0");
        }
        else if (buffer.StatedReadyAgainSeconds > 0 && again <= reset)
        {
            problems.Add("buffer.stated_ready_again_seconds", $"is {buffer.StatedReadyAgainSeconds}; allowed is more than the reset of {buffer.ResetSeconds} s");
        }

        if (!problems.None)
        {
            return null;
        }

        CaptureBuffer sized = buffer.CapacityBytes > 0 ? CaptureBuffer.FromSize(DataSize.FromBytes(buffer.CapacityBytes))
            : buffer.StatedBurstSeconds > 0 ? CaptureBuffer.FromStatedSeconds(stated, needed)
            : CaptureBuffer.FromReadyAgain(again, reset, ceiling);
        return sized with
        {
            Partitions = Math.Max(1, buffer.Partitions),
            Drain = buffer.Drain switch
            {
                DrainMessage.WhileRecording => DrainBehaviour.FromTrigger,
                DrainMessage.AfterCapture => DrainBehaviour.AfterCapture,
                _ => DrainBehaviour.Unknown,
            },
            TriggerPosition = trigger,
            ResetSeconds = reset,
        };
    }

    private static RecordingAssessment Write(SustainedCheck check, MediaLife life, BurstWindow? burst, Rational ratio, bool buffered)
    {
        // A buffer that drains as fast as it fills never ends the take.
        bool sustained = check.WithinCeiling;
        RecordingAssessment answer = new()
        {
            RecordingClass = sustained ? ClassMessage.Sustained : burst is not null ? ClassMessage.Burst : ClassMessage.OverCeiling,
            Sustained = Wire.Of(check.Passes),
            NeededBytesPerSecond = check.Needed.BytesPerSecond.ToDouble(),
            CeilingBytesPerSecond = check.Ceiling.Rate.BytesPerSecond.ToDouble(),
            MarginBytesPerSecond = check.MarginBytesPerSecond.ToDouble(),
            RecordSeconds = life.RecordSeconds.ToDouble(),
            ScreenSeconds = life.ScreenSeconds.ToDouble(),
            Frames = life.Frames,
            SustainableFramesPerSecond = check.HighestWholeRate,
            NeededFurtherRatio = check.RatioNeeded(1)?.ToDouble() ?? 0,
            NeededRatio = check.RatioNeeded(ratio)?.ToDouble() ?? 0,
            BindingLimit = sustained ? "capacity of the medium" : burst is not null ? "size of the buffer" : "write ceiling",
            NextLimit = sustained ? "write ceiling" : burst is not null ? "write ceiling, which drains the buffer" : buffered ? "size of the buffer" : "capacity of the medium",
        };
        if (burst is not null)
        {
            answer.Burst = new BurstMessage
            {
                WindowSeconds = burst.WindowSeconds.ToDouble(),
                Frames = burst.Frames,
                ScreenSeconds = burst.ScreenSeconds.ToDouble(),
                DrainSeconds = burst.DrainSeconds.ToDouble(),
                ReadyAgainSeconds = burst.ReadyAgainSeconds.ToDouble(),
                TakesPerHour = burst.TakesPerHour.ToDouble(),
                BytesAtRisk = burst.BytesAtRisk.Bytes,
                FramesAtRisk = burst.FramesAtRisk,
                SecondsBeforePress = burst.SecondsBeforePress.ToDouble(),
                PartBytes = burst.PartBytes.Bytes,
            };
        }

        return answer;
    }
}
