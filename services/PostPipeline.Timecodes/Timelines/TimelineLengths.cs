using System.Text.Json;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>How long the items of a timeline are, and the rate in which their lengths were written.</summary>
internal sealed class TimelineLengths(TimelineNotes notes)
{
    /// <summary>The timeline's rate: that of its start, else the first in which a length was written.</summary>
    public FrameRate? Rate { get; set; }

    /// <summary>How long an item is on the timeline around it, in seconds: time warps do not change it.</summary>
    public Rational Of(JsonElement element, string path)
    {
        if (TimelineJson.TryRange(TimelineJson.Property(element, "source_range"), out _, out Rational duration, out FrameRate written))
        {
            Rate ??= written;
            return duration;
        }

        switch (TimelineJson.Schema(element))
        {
            case "Transition":
                return Rational.Zero;
            case "Track":
                Rational sum = Rational.Zero;
                foreach ((JsonElement child, string at) in TimelineElement.Children(element, path))
                {
                    sum += Of(child, at);
                }

                return sum;
            case "Stack" or "Timeline" or "SerializableCollection":
                Rational longest = Rational.Zero;
                foreach ((JsonElement child, string at) in TimelineElement.Children(TimelineElement.Inner(element, path).Element, TimelineElement.Inner(element, path).Path))
                {
                    Rational length = Of(child, at);
                    longest = length > longest ? length : longest;
                }

                return longest;
            default:
                if (TimelineJson.TryRange(TimelineElement.Available(element), out _, out duration, out written))
                {
                    Rate ??= written;
                    return duration;
                }

                notes.Report(path, true, "the item has no source_range, and its media no available_range, so that its length is not known");
                return Rational.Zero;
        }
    }
}
