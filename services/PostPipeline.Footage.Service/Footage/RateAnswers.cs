using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Service.Shared;
using AudioMessage = PostPipeline.Contracts.Footage.V1.AudioTracks;
using AudioTracks = PostPipeline.Footage.Rates.AudioTracks;
using Certainty = PostPipeline.Footage.Codings.SizeCertainty;
using CertaintyMessage = PostPipeline.Contracts.Footage.V1.SizeCertainty;
using Coding = PostPipeline.Footage.Codings.Coding;
using RateEstimate = PostPipeline.Footage.Rates.RateEstimate;
using RateMessage = PostPipeline.Contracts.Footage.V1.RateEstimate;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>Reads modes and writes what they make.</summary>
internal sealed class RateAnswers(CodingReader codings, bool explain)
{
    public RateMessage? Answer(RateItem item, ItemProblems problems)
    {
        if (Read(item, problems) is not { } mode)
        {
            return null;
        }

        RateEstimate estimate = RateEstimate.Of(mode.Coding, mode.Raster, mode.Sensor, mode.Audio, mode.Container, mode.Project);
        RateMessage message = Write(mode.Coding, estimate, mode.Sensor.FramesPerSecond / mode.Project.FramesPerSecond);
        if (explain)
        {
            message.Derivation = Wire.Of(RateExplanation.Of(mode.ToMode(), estimate));
        }

        return message;
    }

    /// <summary>A mode, or null with its problems.</summary>
    public ReadMode? Read(RateItem item, ItemProblems problems)
    {
        problems.Label(item.Label);
        Coding? coding = codings.Read(item.Coding, problems);
        Quantities.Raster raster = problems.Raster("raster", item.Raster);
        Quantities.FrameRate sensor = problems.Rate("sensor_rate", item.SensorRate);
        Quantities.FrameRate project = item.ProjectRate is null ? sensor : problems.Rate("project_rate", item.ProjectRate);
        AudioTracks audio = Audio(item.Audio, problems);
        problems.InRange("container_bytes_per_frame", item.ContainerBytesPerFrame, 0, 1L << 30);
        if (!problems.None || coding is null)
        {
            return null;
        }

        return new(coding, raster, sensor, project, audio, ContainerOverhead.From(item.ContainerBytesPerFrame, 0));
    }

    private static AudioTracks Audio(AudioMessage? audio, ItemProblems problems)
    {
        if (audio is null || audio.Channels == 0)
        {
            return AudioTracks.None;
        }

        bool good = problems.InRange("audio.channels", audio.Channels, 0, 64) & problems.InRange("audio.sample_rate_hertz", audio.SampleRateHertz, 8_000, 384_000);
        if (audio.BitsPerSample is not (16 or 24 or 32))
        {
            problems.Add("audio.bits_per_sample", $"is {audio.BitsPerSample}; allowed are 16, 24 and 32");
            return AudioTracks.None;
        }

        return good ? AudioTracks.From(audio.Channels, audio.BitsPerSample, audio.SampleRateHertz) : AudioTracks.None;
    }

    private static RateMessage Write(Coding coding, RateEstimate estimate, Quantities.Rational slow)
    {
        FrameBytes frame = estimate.Frame;
        double bitsPerPixel = frame.Average * 8.0 / estimate.Pixels;
        double based = coding.BaseBitsPerPixel?.ToDouble() ?? 0;
        return new()
        {
            BytesPerFrame = frame.Average,
            PeakBytesPerFrame = frame.Peak,
            LowBytesPerFrame = frame.Low,
            BitsPerPixel = bitsPerPixel,
            PictureBytesPerSecond = Wire.Of(estimate.Picture.BytesPerSecond),
            AudioBytesPerSecond = new() { Numerator = estimate.AudioBytesPerSecond, Denominator = 1 },
            PeakBytesPerSecond = Wire.Of(estimate.PicturePeak.BytesPerSecond),
            SlowFactor = Wire.Of(slow),
            ConstantSize = frame.IsConstant,
            Source = coding.Source,
            Certainty = frame.Certainty switch
            {
                Certainty.Exact => CertaintyMessage.Exact,
                Certainty.Stated => CertaintyMessage.Stated,
                Certainty.Measured => CertaintyMessage.Measured,
                _ => CertaintyMessage.Limit,
            },
            BaseBitsPerPixel = based,
            CompressionRatio = based == 0 ? 0 : based / bitsPerPixel,
            RatioBase = coding.BaseInWords,
            BytesPerHour = estimate.BytesPerHour,
        };
    }

    /// <summary>A mode as it was read; no object until someone needs one.</summary>
    internal readonly record struct ReadMode(
        Coding Coding, Quantities.Raster Raster, Quantities.FrameRate Sensor, Quantities.FrameRate Project, AudioTracks Audio, ContainerOverhead Container)
    {
        public RecordingMode ToMode() => new(Coding, Raster, Sensor) { ProjectRate = Project, Audio = Audio, Container = Container };
    }
}
