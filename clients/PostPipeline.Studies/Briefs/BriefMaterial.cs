using NodaTime;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>Reads what is shot: modes, cards, units, cameras.</summary>
internal static class BriefMaterial
{
    public static IReadOnlyList<Card> Cards(Section top)
    {
        List<Card> cards = [.. top.Maps("cards").Select(s => new Card(
            s.Text("name", "card"),
            s.Size("size", DataSize.FromBytes(1_000_000_000_000)),
            s.Rate("write", MegabytesPerSecond(900)),
            s.Rate("read", MegabytesPerSecond(1000)),
            s.Number("trust", 0.85),
            s.Size("largest_file", DataSize.FromBytes(4_000_000_000)),
            s.Has("count") ? (int)s.Whole("count", 1) : null))];
        return cards.Count > 0 ? cards : [new Card("card", DataSize.FromBytes(1_000_000_000_000), MegabytesPerSecond(900), MegabytesPerSecond(1000), 0.85, DataSize.FromBytes(4_000_000_000))];
    }

    public static IReadOnlyList<CaptureMode> Modes(Section top)
    {
        List<CaptureMode> modes = [.. top.Maps("modes").Select(Mode)];
        return modes.Count > 0 ? modes : [Default()];
    }

    public static ShootPlan Shoot(
        Section shoot, IReadOnlyList<CaptureMode> modes, IReadOnlyList<Card> cards, LocalDate locked, ProductionDefaults defaults)
    {
        int days = (int)shoot.Whole("days", 1);
        IReadOnlyList<IsoDayOfWeek> daysOff = BriefMeans.Weekdays(shoot, "days_off", "saturday", "sunday");
        LocalDate? starts = shoot.Date("starts");
        LocalTime call = shoot.Clock("call", new LocalTime(8, 0));
        LocalTime wrap = shoot.Clock("wrap", new LocalTime(19, 0));
        shoot.Constant("slip", 0);
        (double low, double likely, double high) = defaults.HoursPerDay;
        Estimate hours = shoot.Estimate("hours_per_day", low, likely, high);
        IReadOnlyList<ShootUnit> units = Units(shoot, days, call, wrap);
        IReadOnlyList<Camera> cameras = Cameras(shoot, units, modes, cards, hours);

        // Silent about the start: as late as leaves the usual edit between the last day and the lock.
        int open = 7 - Math.Min(6, daysOff.Count);
        LocalDate derived = locked.PlusDays(-(int)(Math.Ceiling(days * 7.0 / open) + defaults.DaysAfterMaterial.High));
        return new(
            starts ?? derived,
            starts is null,
            days,
            daysOff,
            shoot.Dates("closed"),
            call,
            shoot.Number("day_spread", 0.25),
            shoot.Has("ratio") ? shoot.Number("ratio", 1) : null,
            units,
            cameras);
    }

    private static List<ShootUnit> Units(Section shoot, int days, LocalTime call, LocalTime wrap)
    {
        List<ShootUnit> units = [];
        foreach (Section s in shoot.Maps("units"))
        {
            int first = (int)s.Whole("first_day", 1);
            int length = (int)s.Whole("days", Math.Max(1, days - first + 1));
            if (first + length - 1 > days)
            {
                s.Problem(s.Has("days") ? "days" : "first_day", $"the unit works until shoot day {first + length - 1}; the shoot has {days}");
            }

            units.Add(new(s.Text("name", "main"), first, length, s.Clock("call", call), s.Clock("wrap", wrap)));
        }

        return units.Count > 0 ? units : [new ShootUnit("main", 1, days, call, wrap)];
    }

    private static List<Camera> Cameras(
        Section shoot, IReadOnlyList<ShootUnit> units, IReadOnlyList<CaptureMode> modes, IReadOnlyList<Card> cards, Estimate hours)
    {
        if (!shoot.Has("cameras"))
        {
            shoot.Problem("cameras", "this key is missing; how many cameras, or a list of them");
            return [];
        }

        if (shoot.Count("cameras") is { } count)
        {
            return [.. Enumerable.Range(0, (int)count).Select(i => new Camera(
                Letter(i), units[0].Name, cards[0], [new Recording(modes[0], hours, 90)], false, "unknown", null, null))];
        }

        List<Camera> cameras = [];
        foreach (Section s in shoot.Maps("cameras"))
        {
            string unit = s.Text("unit", units[0].Name);
            if (units.All(u => u.Name != unit))
            {
                s.Problem("unit", $"no unit has this name; the units are {string.Join(", ", units.Select(u => u.Name))}");
            }

            List<Recording> recordings = [.. s.Maps("recordings").Select(r => new Recording(
                Named(r, "mode", modes, m => m.Name),
                r.Has("hours_per_day") ? r.Estimate("hours_per_day", 0, 0, 0) : hours,
                r.Seconds("take", 90)))];
            cameras.Add(new(
                s.Text("letter", Letter(cameras.Count)),
                unit,
                Named(s, "card", cards, c => c.Name),
                recordings.Count > 0 ? recordings : [new Recording(modes[0], hours, 90)],
                s.Choice("timecode", "free-run") == "record-run",
                s.Choice("off_speed_labels", "unknown"),
                s.YesNo("proxy_in_camera", null),
                s.YesNo("proxy_matches", null)));
        }

        return cameras;
    }

    private static T Named<T>(Section section, string key, IReadOnlyList<T> all, Func<T, string> name)
    {
        string wanted = section.Text(key, name(all[0]));
        foreach (T item in all)
        {
            if (name(item) == wanted)
            {
                return item;
            }
        }

        section.Problem(key, $"there is none of this name; there are {string.Join(", ", all.Select(name))}");
        return all[0];
    }

    private static CaptureMode Mode(Section s)
    {
        CaptureMode fallback = Default();
        FrameRate rate = s.FrameRate("frame_rate", fallback.ProjectRate);
        CaptureMode mode = new(
            s.Text("name", fallback.Name),
            s.Raster("raster", fallback.Raster),
            s.Choice("sampling", fallback.Sampling),
            (int)s.Whole("depth", fallback.Depth),
            s.Number("bits_per_pixel", fallback.BitsPerPixel),
            s.Has("rate") ? s.Rate("rate", default) : null,
            rate,
            s.FrameRate("sensor_rate", rate),
            s.Number("peak_factor", 1),
            s.YesNo("sustained", null),
            s.Has("burst_window") ? s.Seconds("burst_window", 1) : null,
            s.Has("buffer") ? s.Size("buffer", default) : null,
            s.Has("ready_again") ? s.Seconds("ready_again", 0) : null,
            s.Number("trigger", 0),
            s.Choice("drain", "unknown"),
            s.YesNo("long_gop", null),
            s.YesNo("trimmable", null));
        if (mode.Rate is not null && s.Has("bits_per_pixel"))
        {
            s.Problem("rate", "either 'rate' or 'bits_per_pixel' is expected, not both");
        }

        return mode;
    }

    private static CaptureMode Default() => new(
        "main", Raster.From(4096, 2160), "raw", 12, 4, null, FrameRate.Fps24, FrameRate.Fps24, 1, null, null, null, null, 0, "unknown", null, null);

    private static string Letter(int index) => index < 26 ? ((char)('A' + index)).ToString() : $"{(char)('A' + (index / 26) - 1)}{(char)('A' + (index % 26))}";

    private static DataRate MegabytesPerSecond(long value) => DataRate.FromBytesPerSecond(value * 1_000_000);
}
