using NodaTime;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>Sizes, rates, times, dates and estimates of a section, each read by its key.</summary>
internal sealed partial class Section
{
    public DataSize Size(string name, DataSize fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        return QuantityText.TryParseSize(node.Value, out DataSize size, out string problem) ? size : Refuse(node, spec, problem, fallback);
    }

    public DataRate Rate(string name, DataRate fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        if (!QuantityText.TryParseRate(node.Value, out DataRate rate, out string problem))
        {
            return Refuse(node, spec, problem, fallback);
        }

        return rate.BitsPerSecond.Sign > 0 ? rate : Refuse(node, spec, "a rate above 0 is expected", fallback);
    }

    public double Seconds(string name, double fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        if (!QuantityText.TryParseTime(node.Value, out Rational seconds, out string problem))
        {
            return Refuse(node, spec, problem, fallback);
        }

        double value = seconds.ToDouble();
        return value >= spec.Low && value <= spec.High
            ? value
            : Refuse(node, spec, $"a time from {Amounts.Time(spec.Low)} to {Amounts.Time(spec.High)} is expected", fallback);
    }

    public FrameRate FrameRate(string name, FrameRate fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        return Quantities.FrameRate.TryParse(node.Value, out FrameRate rate, out string problem) ? rate : Refuse(node, spec, problem, fallback);
    }

    public Raster Raster(string name, Raster fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        return Quantities.Raster.TryParse(node.Value, out Raster raster)
            ? raster
            : Refuse(node, spec, "a raster such as 4096x2160 is expected, each side from 1 to 65535 pixels", fallback);
    }

    public LocalTime Clock(string name, LocalTime fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        return BriefDates.TryClock(node.Value, out LocalTime time) ? time : Refuse(node, spec, "a time of day such as 18:30 is expected", fallback);
    }

    public LocalDate? Date(string name)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return null;
        }

        return BriefDates.TryDate(node.Value, out LocalDate date)
            ? date
            : Refuse<LocalDate?>(node, spec, "a date such as 2027-03-31 between 1990 and 2199 is expected", null);
    }

    public IReadOnlyList<LocalDate> Dates(string name)
    {
        Spec(name);
        List<LocalDate> dates = [];
        foreach (YamlNode item in values.TryGetValue(name, out YamlNode? node) ? Items(node) : [])
        {
            if (item is YamlText text && BriefDates.TryDate(text.Value, out LocalDate date))
            {
                dates.Add(date);
            }
            else
            {
                context.Problem(item, PathOf(name), "a date such as 2027-03-31 between 1990 and 2199 is expected");
            }
        }

        return dates;
    }

    public DateTimeZone Zone(string name)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return DateTimeZone.Utc;
        }

        return DateTimeZoneProviders.Tzdb.GetZoneOrNull(node.Value)
            ?? Refuse(node, spec, NotAllowed(node.Value, DateTimeZoneProviders.Tzdb.Ids, "an IANA time zone such as Europe/Dublin is expected"), DateTimeZone.Utc);
    }

    public string Currency(string name, string fallback)
    {
        if (Scalar(name, out KeySpec spec) is not { } node)
        {
            return fallback;
        }

        return node.Value.Length == 3 && node.Value.All(char.IsAsciiLetterUpper)
            ? node.Value
            : Refuse(node, spec, "an ISO 4217 code of three capitals is expected, such as EUR", fallback);
    }

    /// <summary>An estimate; the default's numbers stand in the spec's unit and count as invented.</summary>
    public Estimate Estimate(string name, double low, double likely, double high)
    {
        KeySpec spec = Spec(name);
        Estimate fallback = new(PathOf(name), low, likely, high, spec.Low, spec.High, spec.Unit, Known.Invented);
        return context.Register(
            values.TryGetValue(name, out YamlNode? node) ? EstimateReader.Read(context, node, PathOf(name), spec, fallback) : fallback);
    }

    public Estimate Constant(string name, double value) => Estimate(name, value, value, value);
}
