using PostPipeline.Footage.Codings;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>The tree behind the rate of a mode: rate ← bytes a frame, frames a second, sound ← raster, bits, source.</summary>
public static class RateExplanation
{
    /// <summary>Explains a mode.</summary>
    /// <param name="mode">The mode.</param>
    /// <param name="estimate">What it makes.</param>
    public static Derivation Of(RecordingMode mode, RateEstimate estimate)
    {
        Derivation frame = OfFrame(mode, estimate);
        Derivation rate = Derivation.Input("frames recorded a second", mode.SensorRate.ToString(), "1/s");
        Derivation pictures = new()
        {
            Name = "pictures",
            Formula = "bytes a frame × frames recorded a second",
            Substituted = $"{estimate.Frame.Average} × {mode.SensorRate}",
            Value = estimate.Picture.BytesPerSecond.ToString(),
            Unit = "B/s",
            Inputs = [frame, rate],
        };
        if (estimate.AudioBytesPerSecond == 0)
        {
            return pictures with { Name = "data rate" };
        }

        Derivation audio = new()
        {
            Name = "sound",
            Formula = "channels × samples a second × bits ÷ 8",
            Substituted = $"{mode.Audio.Channels} × {mode.Audio.Hertz} × {mode.Audio.BitsPerSample} ÷ 8",
            Value = estimate.AudioBytesPerSecond.ToString(),
            Unit = "B/s",
        };
        return new()
        {
            Name = "data rate",
            Formula = "pictures + sound",
            Substituted = $"{estimate.Picture.BytesPerSecond} + {estimate.AudioBytesPerSecond}",
            Value = estimate.Average.BytesPerSecond.ToString(),
            Unit = "B/s",
            Inputs = [pictures, audio],
        };
    }

    /// <summary>Explains the bytes of a frame.</summary>
    /// <param name="mode">The mode.</param>
    /// <param name="estimate">What it makes.</param>
    public static Derivation OfFrame(RecordingMode mode, RateEstimate estimate)
    {
        Coding coding = mode.Coding;
        List<Derivation> inputs = [];
        foreach ((string symbol, string value, string unit) in coding.Inputs(mode.Raster, mode.ProjectRate))
        {
            inputs.Add(Derivation.Input(symbol, value, unit));
        }

        Derivation frame = new()
        {
            Name = coding.Id == "request" ? "bytes a frame" : $"bytes a frame of {coding.Id}",
            Formula = coding.Formula,
            Substituted = string.Join(", ", inputs.Select(i => $"{i.Name} = {i.Value}")),
            Value = (estimate.Frame.Average - mode.Container.BytesPerFrame).ToString(),
            Unit = "B",
            Source = coding.Source,
            Known = estimate.Frame.Certainty == SizeCertainty.Measured ? Known.Measured : Known.Quoted,
            BindingLimit = coding is LevelCoding ? "bit rate of the level" : coding is RateLimitCoding ? "bit rate limit" : string.Empty,
            Inputs = inputs,
        };
        if (mode.Container.BytesPerFrame == 0)
        {
            return frame;
        }

        return new()
        {
            Name = "bytes a frame with container",
            Formula = "bytes a frame + container",
            Substituted = $"{frame.Value} + {mode.Container.BytesPerFrame}",
            Value = estimate.Frame.Average.ToString(),
            Unit = "B",
            Inputs = [frame, Derivation.Input("container", mode.Container.BytesPerFrame.ToString(), "B")],
        };
    }
}
