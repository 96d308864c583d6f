using PostPipeline.Footage.Rates;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>The trees behind what a medium can take of a mode.</summary>
public static class RecordingExplanation
{
    /// <summary>Explains a check, its burst window where there is one, and how long the medium lasts.</summary>
    /// <param name="check">The check.</param>
    /// <param name="peakFrameBytes">The largest frame.</param>
    /// <param name="sensorRate">Frames recorded a second.</param>
    /// <param name="audioBytesPerSecond">Sound.</param>
    /// <param name="average">What fills the medium: frames on average, and sound.</param>
    /// <param name="life">How long the medium lasts.</param>
    /// <param name="capacity">Its bytes.</param>
    /// <param name="reserve">The part kept free.</param>
    /// <param name="burst">The burst window, or null.</param>
    /// <param name="buffer">Its buffer, or null.</param>
    public static Derivation Of(
        SustainedCheck check, long peakFrameBytes, FrameRate sensorRate, Rational audioBytesPerSecond, DataRate average, MediaLife life, DataSize capacity, Rational reserve, BurstWindow? burst, CaptureBuffer? buffer)
    {
        Derivation needed = new()
        {
            Name = "needed",
            Formula = "largest frame × frames recorded a second + sound",
            Substituted = $"{peakFrameBytes} × {sensorRate} + {audioBytesPerSecond}",
            Value = check.Needed.BytesPerSecond.ToString(),
            Unit = "B/s",
            Inputs = [Derivation.Input("largest frame", peakFrameBytes.ToString(), "B"), Derivation.Input("frames recorded a second", sensorRate.ToString(), "1/s"), Derivation.Input("sound", audioBytesPerSecond.ToString(), "B/s")],
        };
        bool invented = check.Ceiling.Derating == WriteCeiling.DefaultDerating;
        Derivation ceiling = new()
        {
            Name = "write ceiling",
            Formula = "rating × trusted part",
            Substituted = $"{check.Ceiling.Rated.BytesPerSecond} × {check.Ceiling.Derating}",
            Value = check.Ceiling.Rate.BytesPerSecond.ToString(),
            Unit = "B/s",
            Margin = check.Ceiling.Derating == 1 ? string.Empty : "trusted part of the media rating",
            Inputs =
            [
                Derivation.Input("rating", check.Ceiling.Rated.BytesPerSecond.ToString(), "B/s", "the medium's label", Known.Quoted),
                Derivation.Input("trusted part", check.Ceiling.Derating.ToString(), string.Empty, invented ? "an invented default; measure your own media" : "as stated", invented ? Known.Invented : Known.Unspecified),
            ],
        };
        Derivation record = new()
        {
            Name = "record time",
            Formula = "capacity × (1 − reserve) ÷ average rate",
            Substituted = $"{capacity.Bytes} × (1 − {reserve}) ÷ {average.BytesPerSecond}",
            Value = life.RecordSeconds.ToDouble().ToString("0.###"),
            Unit = "s",
            Margin = reserve.Sign > 0 ? "reserve on the medium" : string.Empty,
            Inputs = [Derivation.Input("capacity", capacity.Bytes.ToString(), "B"), Derivation.Input("reserve", reserve.ToString()), Derivation.Input("average rate", average.BytesPerSecond.ToString(), "B/s")],
        };
        List<Derivation> inputs = [needed, ceiling, record];
        if (burst is not null && buffer is not null)
        {
            inputs.Add(Burst(burst, buffer, needed, ceiling));
        }

        return new()
        {
            Name = "sustained",
            Formula = "needed ≤ write ceiling, and shown by a mode table or a test with a full card",
            Substituted = $"{check.Needed.BytesPerSecond} ≤ {check.Ceiling.Rate.BytesPerSecond}, {(check.Evidence == Evidence.Holds ? "shown" : check.Evidence == Evidence.Fails ? "shown not to hold" : "not shown")}",
            Value = check.Passes switch { true => "pass", false => "fail", null => "unknown" },
            Source = "common practice, no source",
            Inputs = inputs,
        };
    }

    private static Derivation Burst(BurstWindow burst, CaptureBuffer buffer, Derivation needed, Derivation ceiling)
    {
        bool drains = buffer.Drain == DrainBehaviour.FromTrigger;
        return new()
        {
            Name = "burst window",
            Formula = drains ? "buffer part ÷ (needed − (1 − p) × write ceiling)" : "buffer part ÷ needed",
            Substituted = drains
                ? $"{burst.PartBytes.Bytes} ÷ ({needed.Value} − (1 − {buffer.TriggerPosition}) × {ceiling.Value})"
                : $"{burst.PartBytes.Bytes} ÷ {needed.Value}",
            Value = burst.WindowSeconds.ToDouble().ToString("0.###"),
            Unit = "s",
            Source = "common practice, no source",
            Inputs =
            [
                Derivation.Input("buffer", buffer.Capacity.Bytes.ToString(), "B", buffer.Basis), Derivation.Input("parts", buffer.Partitions.ToString()),
                Derivation.Input("trigger position p", buffer.TriggerPosition.ToString()), needed, ceiling,
            ],
        };
    }
}
