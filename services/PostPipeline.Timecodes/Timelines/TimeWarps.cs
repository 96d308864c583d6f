using System.Text.Json;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>What the effects of an item make of its time.</summary>
internal static class TimeWarps
{
    /// <summary>The time scalars of an item multiplied, and whether there is any.</summary>
    public static (Rational Scalar, bool Warped) Read(JsonElement element, string path, TimelineNotes notes)
    {
        Rational scalar = Rational.One;
        bool warped = false;
        if (TimelineJson.Property(element, "effects") is { ValueKind: JsonValueKind.Array } effects)
        {
            int i = 0;
            foreach (JsonElement effect in effects.EnumerateArray())
            {
                string schema = TimelineJson.Schema(effect);
                if (schema == "FreezeFrame")
                {
                    (scalar, warped) = (Rational.Zero, true);
                }
                else if (schema == "LinearTimeWarp" && TimelineJson.Number(effect, "time_scalar") is { } number && Math.Abs(number) <= 10_000)
                {
                    (scalar, warped) = (scalar * TimelineJson.Nearest(number), true);
                }
                else if (schema is "LinearTimeWarp" or "TimeEffect")
                {
                    notes.Report($"{path}.effects[{i}]", true, "the time effect has no time_scalar from −10,000 to 10,000, so that the speed is not known");
                }
                else if (schema != "Effect")
                {
                    notes.Unknown.Add(TimelineJson.Text(effect, "OTIO_SCHEMA"));
                }

                i++;
            }
        }

        return (scalar, warped);
    }
}
