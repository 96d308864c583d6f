using static PostPipeline.Studies.Briefs.KeySpec;

namespace PostPipeline.Studies.Briefs;

/// <summary>Every key of a brief. Defaults are invented and marked so wherever they count.</summary>
internal static class BriefKeys
{
    public static readonly string[] Productions = ["commercial", "feature", "episodic", "documentary", "multicam", "wildlife"];
    public static readonly string[] Pipelines =
        ["native", "transcode", "proxy", "native-cached", "transcode-selects", "transcode-off-speed", "proxy-in-post", "proxy-in-camera", "proxy-remote"];

    public static readonly string[] Orders = ["cost P50", "cost P90", "delivery P50", "delivery P90"];
    private static readonly string[] Weekdays = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

    public static readonly KeySpec[] Recording =
    [
        Text("mode", "the name of one of `modes`", "the first mode"),
        Estimate("hours_per_day", "h", "recorded hours a day in this mode, on this camera", "`shoot.hours_per_day`", 0, 24),
        Time("take", "how long a usual take is", "90 s", 0.04, 86_400),
    ];

    public static readonly KeySpec[] Camera =
    [
        Text("letter", "the camera's letter; no two cameras of a production share one", "A, B, C … in order", 4),
        Text("unit", "the name of one of `shoot.units`", "the first unit", 40),
        Text("card", "the name of one of `cards`", "the first card", 40),
        Maps("recordings", "what the camera records in a day", "the first mode for `shoot.hours_per_day`", Recording),
        Choice("timecode", "how the camera counts: time of day, or on from the last clip", "free-run", "free-run", "record-run"),
        Choice("off_speed_labels", "how clips at another sensor rate are labelled: one label per recorded frame at the base rate; labels follow the clock; record run is forced; none; not known", "unknown", "per-frame", "clock", "record-run", "none", "unknown"),
        YesNo("proxy_in_camera", "whether the camera records a lighter second file"),
        YesNo("proxy_matches", "whether that file shares frame count, start timecode, rate, drop-frame flag, name stem and framing with the original"),
    ];

    public static readonly KeySpec[] Unit =
    [
        Text("name", "the unit's name", "main", 40),
        Whole("first_day", "the shoot day on which the unit starts", "1", 1, 366),
        Whole("days", "how many shoot days it works", "all from its first day on", 1, 366),
        Of(ValueKind.Clock, "call", "when its day starts, local time", "`shoot.call`"),
        Of(ValueKind.Clock, "wrap", "when its last card comes out, local time", "`shoot.wrap`"),
    ];

    public static readonly KeySpec[] Mode =
    [
        Text("name", "the mode's name", "main", 40),
        Of(ValueKind.Raster, "raster", "pixels, or photosites of raw", "4096x2160"),
        Choice("sampling", "what is stored for a pixel", "raw", "raw", "444", "422", "420"),
        Whole("depth", "bits per value", "12", 8, 32),
        Number("bits_per_pixel", "stored bits per pixel after compression", "4", 0.01, 128),
        Of(ValueKind.Rate, "rate", "the stated data rate at `frame_rate`, instead of `bits_per_pixel`", "not used"),
        Of(ValueKind.FrameRate, "frame_rate", "the project's rate, an exact fraction", "24"),
        Of(ValueKind.FrameRate, "sensor_rate", "frames taken per second", "`frame_rate`"),
        Number("peak_factor", "peak over average data rate", "1 where the size is constant", 1, 10),
        YesNo("sustained", "whether a test with a full card, or the maker's mode table, says that the mode records without end"),
        Time("burst_window", "how long a burst lasts, as the manual states it", "derived from `buffer`", 0.1, 3600),
        Of(ValueKind.Size, "buffer", "memory in front of the card", "derived from `burst_window`"),
        Time("ready_again", "from the end of a burst until the camera is ready again", "derived from buffer and write ceiling", 0, 86_400),
        Number("trigger", "where in the window the trigger falls: 0 at its start, 1 at its end", "0", 0, 1),
        Choice("drain", "when the buffer empties", "unknown", "while-recording", "after", "unknown"),
        YesNo("long_gop", "whether frames depend on each other"),
        YesNo("trimmable", "whether a range can be cut out without a new encode"),
    ];

    public static readonly KeySpec[] Card =
    [
        Text("name", "the card's name", "card", 40),
        Of(ValueKind.Size, "size", "stated size", "1 TB"),
        Of(ValueKind.Rate, "write", "rated sustained write rate", "900 MB/s"),
        Of(ValueKind.Rate, "read", "read rate", "1 GB/s"),
        Number("trust", "share of the rated rate that is relied on", "0.85", 0.1, 1),
        Of(ValueKind.Size, "largest_file", "the largest file that a take is cut into", "4 GB"),
        Whole("count", "how many there are of it; whether they are enough becomes a gate", "not said, and no gate", 1, 10_000),
    ];

    public static readonly KeySpec[] Destination =
    [
        Of(ValueKind.Rate, "write", "sustained write rate", "500 MB/s"),
        Of(ValueKind.Size, "fast_size", "how much the fast part takes first", "none"),
        Of(ValueKind.Rate, "fast_write", "rate of the fast part", "`write`"),
        Of(ValueKind.Size, "size", "size of one drive of this copy", "not said"),
        Whole("count", "how many drives there are for this copy", "1", 1, 10_000),
    ];

    public static readonly KeySpec[] Tier =
    [
        Of(ValueKind.Size, "capacity", "bytes before redundancy is taken off", "not bounded"),
        Number("redundancy", "raw bytes per stored byte: 1.25 for eight data and two parity drives", "1.25", 1, 4),
        Number("free", "share kept free", "0.2", 0, 0.9),
        Of(ValueKind.Rate, "read", "read rate that the array was measured with", "2 GB/s"),
        Of(ValueKind.Rate, "write", "write rate", "2 GB/s"),
    ];

    public static readonly KeySpec[] Node =
    [
        Text("name", "the node class", "node", 40),
        Whole("count", "how many", "4", 0, 10_000),
        Number("speed", "a factor on what the benchmarks predict for such a node", "1", 0.01, 100),
        Whole("cores", "cores of a node", "32", 1, 1024),
        Number("clock_ghz", "clock of the cores, GHz", "3", 0.5, 10),
        Whole("memory_gb", "memory of a node, GB", "128", 1, 65_536),
        Text("gpu", "its graphics class by the word that the benchmarks use", "none", 40),
        Whole("gpu_memory_gb", "memory of the graphics class, GB", "0", 0, 1024),
    ];

    public static readonly KeySpec[] NamedEvent =
    [
        Text("name", "what happens", "event", 60),
        new("probability", ValueKind.Number, "how likely it is, 0 to 1") { Default = "required", Required = true, Unit = "share", Low = 0, High = 1 },
        Estimate("delay", "d", "how long it holds up the stage it hits", "0 d", 0, 366),
        Estimate("cost", "money", "what it costs", "0", 0, 1e9),
        Choice("hits", "the stage it hits", "finish", "shoot", "offload", "farm", "edit", "conform", "finish", "review"),
        Choices("pipelines", "the pipelines it concerns", "all", Pipelines),
    ];

    public static readonly KeySpec[] Deliverable =
    [
        Text("name", "what it is, such as a range, a language, textless, a package", "deliverable", 60),
        Estimate("render", "share", "its farm work against the final render", "15 %, 30 %, 60 %", 0, 20),
        Estimate("check", "h/h", "hours of checking per finished hour", "1.5, 2, 3", 0, 50),
        Of(ValueKind.Size, "size", "what is uploaded", "nothing"),
    ];

    public static readonly KeySpec[] Round =
    [
        new("chance", ValueKind.Number, "how likely the round is once the one before it has happened, 0 to 1") { Default = "required", Required = true, Unit = "share", Low = 0, High = 1 },
        Estimate("days", "d", "calendar days until the notes are in", "1, 2, 4 d", 0, 366),
        Estimate("render", "share", "farm work of the mending against the final render", "2 %, 10 %, 30 %", 0, 20),
        Estimate("check", "h/h", "hours of checking again per finished hour", "0.5, 1, 2", 0, 50),
    ];

    public static readonly KeySpec[] Top =
    [
        Whole("brief", "the version of the file format", "required", 1, 1) with { Required = true },
        Text("title", "the production's name", "Untitled", 80),
        Choice("production", "the kind of production; most defaults hang on it", "required", Productions) with { Required = true },
        Of(ValueKind.Currency, "currency", "one ISO 4217 code for all money; XXX means none", "XXX"),
        Of(ValueKind.Zone, "time_zone", "the IANA time zone of dates and clocks", "UTC"),
        Whole("seed", "the seed of every random number", "1", 0, long.MaxValue / 2),
        Number("confidence", "how sure the date must be for the date gate", "0.9", 0.5, 0.999),
        Choices("prefer", "in which order admissible pipelines are compared", "[cost P50, delivery P90]", Orders),
        Choices("pipelines", "which pipelines are compared", "[native, transcode, proxy]", Pipelines),
        Map(
            "shoot",
            "what is shot",
            Of(ValueKind.Date, "starts", "the first shoot day", "so long before the lock that shoot and a usual edit fit"),
            Whole("days", "shoot days", "required", 1, 366) with { Required = true },
            Choices("days_off", "weekdays without a shoot", "[saturday, sunday]", Weekdays),
            Of(ValueKind.Dates, "closed", "dates without a shoot", "none"),
            Of(ValueKind.Clock, "call", "when the day starts, local time", "08:00"),
            Of(ValueKind.Clock, "wrap", "when the last card comes out, local time", "19:00"),
            Estimate("slip", "d", "how many calendar days later the shoot starts than planned", "0 d", 0, 366),
            Estimate("hours_per_day", "h", "recorded hours a camera-day, where a recording does not say its own", "by kind of production", 0, 24),
            Number("day_spread", "how much days differ: standard deviation of a day's hours over their mean", "0.25", 0, 2),
            Number("ratio", "shooting ratio if you know it: recorded frames of all cameras over finished frames; only compared with the plan", "derived from the plan", 1, 10_000),
            Maps("units", "the units", "one, for all days", Unit),
            new("cameras", ValueKind.CountOrMaps, "how many cameras, or a list of them") { Required = true, Default = "required", Low = 1, High = 100, Keys = Camera }),
        Maps("modes", "the capture modes", "one: 4096x2160, 12-bit raw at 4 bit a pixel, 24 fps", Mode),
        Maps("cards", "the recording media", "one of 1 TB at 900 MB/s", Card),
        Map(
            "offload",
            "how cards are copied",
            Whole("stations", "copying stations of each unit", "1", 1, 100),
            Of(ValueKind.Rate, "reader", "read rate of a reader", "800 MB/s"),
            Of(ValueKind.Rate, "hash", "rate at which a station computes hashes", "1.5 GB/s"),
            Maps("destinations", "the copies made", "two at 500 MB/s", Destination),
            Choice("verify", "what is compared", "destinations", "none", "sizes", "destinations", "source-and-destinations", "camera-hashes"),
            Time("per_file", "cost of each file", "20 ms", 0, 60),
            Time("transit", "from camera to station", "15 min", 0, 86_400),
            Time("look", "looking at a card's clips", "10 min", 0, 86_400),
            Time("rest", "the least rest between the end of a day's work and the next call", "11 h", 0, 86_400),
            Time("collect", "until material of a day is where post works, after its offload", "2 h", 0, 864_000)),
        Map(
            "storage",
            "where bytes live",
            Map("online", "the tier that editors and farm work on", Tier),
            Map("nearline", "the tier that originals rest on", Tier),
            Whole("tape_copies", "tape sets", "2", 0, 10),
            Of(ValueKind.Size, "tape_size", "native size of a tape", "18 TB"),
            Number("tape_fill", "share of a tape that is planned on", "0.92", 0.1, 1),
            Choice("originals", "where a transcode pipeline keeps the originals", "nearline", "online", "nearline"),
            Estimate("keep", "d", "from acceptance until working generations are deleted by a named human", "90 d", 0, 3660)),
        Map(
            "seats",
            "who works at the material",
            Whole("editors", "seats that play at once", "2", 0, 1000),
            Whole("streams", "streams or angles a seat plays at once", "2", 1, 64),
            Number("together", "share of seats that play at the same time", "0.65", 0.05, 1),
            Of(ValueKind.Rate, "link", "link of a seat", "10 Gb/s"),
            Of(ValueKind.Rate, "wan", "link of a remote editor, for proxy-remote", "200 Mb/s"),
            Estimate("decode", "fps", "frames of an original a second that a seat was measured to decode", "unknown", 0.1, 100_000)),
        Map(
            "farm",
            "what renders",
            Maps("nodes", "the node classes", "four of 32 cores", Node),
            Of(ValueKind.Clock, "open", "when the farm may start, local time", "19:00"),
            Of(ValueKind.Clock, "close", "when it must stop, local time; equal to `open` means never", "08:00"),
            Choices("all_day", "weekdays on which it may run all day", "[saturday, sunday]", Weekdays),
            Of(ValueKind.Dates, "maintenance", "dates on which it is shut", "none"),
            Whole("segment", "frames of a task at most", "2000", 1, 10_000_000),
            Time("overhead", "start and end of a task", "30 s", 0, 3600),
            Estimate("failures", "share", "share of tasks that fail and are done again", "1.5 %", 0, 0.5),
            Estimate("available", "share", "share of open time that a node is up", "95 %", 0.2, 1),
            Estimate("other_work", "share", "share of the farm that other work takes", "0 %", 0, 0.99),
            Whole("licences", "tasks that may run at once; 0 means not bounded", "0", 0, 100_000),
            Of(ValueKind.Rate, "storage", "bytes a second that storage leaves to the farm", "1.2 GB/s"),
            Whole("replications", "simulated replications behind the calibration", "200", 20, 2000),
            Whole("noise_reduction", "0 none, 1 spatial, 2 temporal, in the conversion of originals", "0", 0, 2),
            Text("benchmarks", "a CSV file of one's own measured rows, its path from the brief's folder; render times are learned from it", "the invented rows", 400)),
        Map(
            "mezzanine",
            "what a transcode pipeline works in",
            Of(ValueKind.Raster, "raster", "pixels", "3840x2160"),
            Whole("depth", "bits per value", "10", 8, 32),
            Choice("sampling", "what is stored for a pixel", "422", "444", "422", "420"),
            Number("bits_per_pixel", "stored bits per pixel", "3.5", 0.01, 128)),
        Map(
            "proxies",
            "what a proxy pipeline cuts in",
            Of(ValueKind.Rate, "rate", "data rate", "36.2 Mb/s"),
            YesNo("names_kept", "whether every tool on the way keeps full clip name, timecode and rate in its lists")),
        Map(
            "viewing",
            "a look on each day's material, and copies to view; left out where the brief is silent",
            Estimate("look", "h/h", "person-hours of applying the look per recorded hour", "0.1, 0.2, 0.4", 0, 20),
            Estimate("copies", "h/h", "person-hours of making the copies per recorded hour", "0.2, 0.35, 0.6", 0, 20),
            Whole("people", "people who do it, beside the assistants", "1", 0, 200),
            Of(ValueKind.Rate, "rate", "data rate of the copies", "8 Mb/s"),
            Of(ValueKind.Rate, "link", "link that they are sent over", "100 Mb/s")),
        Estimate("caches", "share", "rendered caches of a native pipeline over its originals", "15 %", 0, 2),
        Estimate("selects", "share", "share of the material that a selects-only transcode converts", "20 %", 0.01, 1),
        Map(
            "edit",
            "the cut",
            new("finished", ValueKind.Time, "finished length") { Required = true, Default = "required", Low = 1, High = 3_600_000 },
            new("lock", ValueKind.Date, "the date on which the picture is locked") { Required = true, Default = "required" },
            Estimate("lock_slip", "d", "how many calendar days later the lock really falls", "0, 4, 14 d", 0, 366),
            Estimate("after_material", "d", "calendar days of editing that must follow the last material", "by kind of production", 0, 3660),
            Estimate("events_per_minute", "events/min", "events a finished minute", "by kind of production", 0.01, 600),
            Number("tracks", "picture tracks that must be conformed", "1", 1, 40)),
        Map(
            "turnovers",
            "the locked cut handed to effects and sound, re-cuts included; left out where the brief is silent",
            Estimate("count", "turnovers", "how many, by the assistants before they conform", "2, 3, 5", 0, 200),
            Estimate("hours", "h", "person-hours of one", "4, 8, 14 h", 0, 500)),
        Map(
            "effects",
            "effects plates and the versions that come back; left out where the brief is silent",
            Estimate("shots", "shots", "how many", "20, 60, 140", 0, 100_000),
            Estimate("length", "s", "seconds of a shot on screen", "2, 4, 8 s", 0, 3600),
            Whole("handles", "frames kept on both sides of a plate", "16", 0, 1000),
            Estimate("versions", "versions", "versions of a shot until one is accepted", "2, 3, 6", 1, 100),
            Estimate("version", "d", "calendar days of a version, the look at it included", "3, 6, 12 d", 0, 366),
            Estimate("before_lock", "d", "how many days before the lock the plates are pulled", "0 d", 0, 1000)),
        Map(
            "finish",
            "from lock to master",
            Estimate("sync", "h/h", "assistant's hours of sync and logging per recorded hour", "0.45", 0, 20),
            Estimate("clean_events", "events/h", "clean events conformed an hour", "75", 1, 10_000),
            Estimate("problem_event", "min", "time for an event with a problem", "14 min", 0.1, 600),
            Estimate("problem_share", "share", "share of events with a problem, beyond those that the rehearsal finds", "2 %", 0, 1),
            Estimate("hand_over", "h", "person-hours from the locked cut to the grade, where the cut is finished in the material it was cut in", "8 h", 0, 1000),
            Whole("handles", "frames kept on both sides of an event", "16", 0, 1000),
            Estimate("grade", "h", "person-hours of grading", "by kind of production and length", 0, 10_000),
            Estimate("quality_check", "h/h", "hours of checking per finished hour and version", "2", 0, 50),
            Whole("versions", "versions of the master that are checked; the master alone where `deliver.items` lists the rest", "2", 1, 200),
            Number("noise_reduction", "0 none, 1 spatial, 2 temporal, in the final render", "1", 0, 2),
            Estimate("renders", "B", "finished renders and masters kept online", "by length and master", 0, 1e16)),
        Map(
            "deliver",
            "what is due",
            new("due", ValueKind.Date, "the delivery date; it means 18:00 local time") { Required = true, Default = "required" },
            Of(ValueKind.Raster, "raster", "raster of the master", "required") with { Required = true },
            Whole("depth", "bits per value of the master", "10", 8, 32),
            Maps("items", "the delivery matrix: what is made from the master, each rendered, checked and uploaded", "none", Deliverable),
            Of(ValueKind.Rate, "link", "link that the items go out over", "200 Mb/s"),
            Maps("rounds", "rounds of review and re-delivery, one after the other, each with its chance; instead of `review_rounds`", "none", Round),
            Estimate("review_rounds", "rounds", "rounds of review and re-delivery; the part after the point is a chance", "0.5, 1, 2", 0, 50),
            Estimate("review", "d", "calendar days of a round", "1, 2, 4 d", 0, 366)),
        Map(
            "people",
            "who works, and when",
            Whole("assistants", "assistants at sync and conform", "1", 0, 200),
            Whole("graders", "people who grade", "1", 0, 200),
            Whole("checkers", "people who check quality", "1", 0, 200),
            Of(ValueKind.Clock, "from", "when work starts, local time", "09:00"),
            Of(ValueKind.Clock, "until", "when work ends, local time", "18:00"),
            Choices("days_off", "weekdays without work", "[saturday, sunday]", Weekdays),
            Of(ValueKind.Dates, "closed", "dates without work", "none")),
        Map(
            "prices",
            "prices in the brief's currency; every default is invented",
            Estimate("node_hour", "money", "a node for an hour, power and room included", "1.4, 2, 3.2", 0, 1e6),
            Estimate("online", "money", "a TB online for a month", "15, 25, 40", 0, 1e6),
            Estimate("nearline", "money", "a TB nearline for a month", "5, 8, 12", 0, 1e6),
            Estimate("tape", "money", "a tape", "80, 100, 130", 0, 1e6),
            Estimate("assistant_hour", "money", "an assistant for an hour", "28, 38, 50", 0, 1e6),
            Estimate("grading_hour", "money", "grading for an hour, suite included", "180, 260, 420", 0, 1e6),
            Estimate("checking_hour", "money", "quality checking for an hour", "30, 42, 60", 0, 1e6),
            Estimate("workstation_day", "money", "a day of a workstation that plays originals", "60, 90, 140", 0, 1e6),
            Estimate("effects_shot", "money", "an effects shot, where the brief has `effects`", "400, 900, 2500", 0, 1e7)),
        Maps("events", "things that may happen", "none", NamedEvent),
    ];
}
