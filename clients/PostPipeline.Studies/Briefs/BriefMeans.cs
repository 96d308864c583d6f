using NodaTime;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>Reads the means: offload, storage, seats, farm, people, prices, named events.</summary>
internal static class BriefMeans
{
    public static OffloadPlan Offload(Section s)
    {
        DataRate usual = Megabytes(500);
        List<Destination> destinations = [];
        foreach (Section d in s.Maps("destinations"))
        {
            DataRate write = d.Rate("write", usual);
            destinations.Add(new(write, d.Size("fast_size", DataSize.Zero), d.Rate("fast_write", write), d.Has("size") ? d.Size("size", DataSize.Zero) : null, (int)d.Whole("count", 1)));
        }

        return new(
            (int)s.Whole("stations", 1),
            s.Rate("reader", Megabytes(800)),
            s.Rate("hash", Megabytes(1500)),
            destinations.Count > 0 ? destinations : [new Destination(usual, DataSize.Zero, usual), new Destination(usual, DataSize.Zero, usual)],
            s.Choice("verify", "destinations"),
            s.Seconds("per_file", 0.02),
            s.Seconds("transit", 900),
            s.Seconds("look", 600),
            s.Seconds("rest", 39_600),
            s.Seconds("collect", 7200));
    }

    public static StoragePlan Storage(Section s)
    {
        s.Constant("keep", 90);
        return new(
            Tier(s.Map("online")),
            Tier(s.Map("nearline")),
            (int)s.Whole("tape_copies", 2),
            s.Size("tape_size", DataSize.FromBytes(18_000_000_000_000)),
            s.Number("tape_fill", 0.92),
            s.Choice("originals", "nearline") == "online");
    }

    public static SeatPlan Seats(Section s)
    {
        s.Estimate("decode", 12, 48, 120);
        return new(
            (int)s.Whole("editors", 2),
            (int)s.Whole("streams", 2),
            s.Number("together", 0.65),
            s.Rate("link", Megabytes(1250)),
            s.Rate("wan", Megabytes(25)),
            s.Has("decode"));
    }

    public static FarmPlan Farm(Section s)
    {
        List<NodeClass> nodes = [.. s.Maps("nodes").Select(n => new NodeClass(
            n.Text("name", "node"),
            (int)n.Whole("count", 4),
            n.Number("speed", 1),
            (int)n.Whole("cores", 32),
            n.Number("clock_ghz", 3),
            (int)n.Whole("memory_gb", 128),
            n.Text("gpu", "none"),
            (int)n.Whole("gpu_memory_gb", 0)))];
        s.Constant("failures", 0.015);
        s.Estimate("available", 0.93, 0.96, 0.985);
        s.Constant("other_work", 0);
        return new(
            nodes.Count > 0 ? nodes : [new NodeClass("node", 4, 1, 32, 3, 128, "none", 0)],
            s.Clock("open", new LocalTime(19, 0)),
            s.Clock("close", new LocalTime(8, 0)),
            Weekdays(s, "all_day", "saturday", "sunday"),
            s.Dates("maintenance"),
            (int)s.Whole("segment", 2000),
            s.Seconds("overhead", 30),
            (int)s.Whole("licences", 0),
            s.Rate("storage", Megabytes(1200)),
            (int)s.Whole("replications", 200),
            (int)s.Whole("noise_reduction", 0))
        {
            Benchmarks = BenchmarkRows(s),
        };
    }

    private static string BenchmarkRows(Section s)
    {
        if (s.Text("benchmarks", string.Empty) is not { Length: > 0 } name)
        {
            return string.Empty;
        }

        string path = Path.Combine(Path.GetDirectoryName(s.File) ?? string.Empty, name);
        if (!File.Exists(path))
        {
            s.Problem("benchmarks", "there is no such file; a path is read from the brief's own folder");
        }

        return path;
    }

    public static Mezzanine Mezzanine(Section s) => new(
        s.Raster("raster", Raster.From(3840, 2160)), (int)s.Whole("depth", 10), s.Choice("sampling", "422"), s.Number("bits_per_pixel", 3.5));

    public static ProxyPlan Proxies(Section s) =>
        new(s.Rate("rate", DataRate.FromBitsPerSecond(36_200_000)), s.YesNo("names_kept", null));

    public static PeoplePlan People(Section s)
    {
        PeoplePlan plan = new(
            (int)s.Whole("assistants", 1),
            (int)s.Whole("graders", 1),
            (int)s.Whole("checkers", 1),
            s.Clock("from", new LocalTime(9, 0)),
            s.Clock("until", new LocalTime(18, 0)),
            Weekdays(s, "days_off", "saturday", "sunday"),
            s.Dates("closed"));
        if (plan.Until <= plan.From)
        {
            s.Problem(s.Has("until") ? "until" : "from", $"work ends at {plan.Until}, not after its start at {plan.From}");
        }

        return plan;
    }

    /// <summary>The look and the viewing copies; null where the brief is silent.</summary>
    public static ViewingPlan? Viewing(Section top)
    {
        if (!top.Has("viewing"))
        {
            return null;
        }

        Section s = top.Map("viewing");
        s.Estimate("look", 0.1, 0.2, 0.4);
        s.Estimate("copies", 0.2, 0.35, 0.6);
        return new((int)s.Whole("people", 1), s.Rate("rate", DataRate.FromBitsPerSecond(8_000_000)), s.Rate("link", DataRate.FromBitsPerSecond(100_000_000)));
    }

    /// <summary>Turnovers; whether the brief speaks of them.</summary>
    public static bool Turnovers(Section top)
    {
        if (!top.Has("turnovers"))
        {
            return false;
        }

        Section s = top.Map("turnovers");
        s.Estimate("count", 2, 3, 5);
        s.Estimate("hours", 4, 8, 14);
        return true;
    }

    /// <summary>Effects; null where the brief is silent.</summary>
    public static EffectsPlan? Effects(Section top)
    {
        if (!top.Has("effects"))
        {
            return null;
        }

        Section s = top.Map("effects");
        s.Estimate("shots", 20, 60, 140);
        s.Estimate("length", 2, 4, 8);
        s.Estimate("versions", 2, 3, 6);
        s.Estimate("version", 3, 6, 12);
        s.Constant("before_lock", 0);
        return new((int)s.Whole("handles", 16));
    }

    public static void Prices(Section s, bool effects)
    {
        if (effects)
        {
            s.Estimate("effects_shot", 400, 900, 2500);
        }

        s.Estimate("node_hour", 1.4, 2, 3.2);
        s.Estimate("online", 15, 25, 40);
        s.Estimate("nearline", 5, 8, 12);
        s.Estimate("tape", 80, 100, 130);
        s.Estimate("assistant_hour", 28, 38, 50);
        s.Estimate("grading_hour", 180, 260, 420);
        s.Estimate("checking_hour", 30, 42, 60);
        s.Estimate("workstation_day", 60, 90, 140);
    }

    public static IReadOnlyList<NamedEvent> Events(Section top) =>
    [
        .. top.Maps("events").Select(e => new NamedEvent(
            e.Text("name", "event"), e.Number("probability", 0), e.Constant("delay", 0), e.Constant("cost", 0), e.Choice("hits", "finish"), e.Choices("pipelines"))),
    ];

    public static IReadOnlyList<IsoDayOfWeek> Weekdays(Section s, string key, params string[] fallback)
    {
        List<IsoDayOfWeek> days = [.. s.Choices(key, fallback).Select(d => Enum.Parse<IsoDayOfWeek>(d, ignoreCase: true)).Distinct()];
        if (days.Count == 7 && key != "all_day")
        {
            s.Problem(key, "no working day is left in the week");
            return days[..6];
        }

        return days;
    }

    public static Tier Tier(Section s) => new(
        s.Has("capacity") ? s.Size("capacity", DataSize.Zero) : null,
        s.Number("redundancy", 1.25),
        s.Number("free", 0.2),
        s.Rate("read", Megabytes(2000)),
        s.Rate("write", Megabytes(2000)));

    private static DataRate Megabytes(long value) => DataRate.FromBytesPerSecond(value * 1_000_000);
}
