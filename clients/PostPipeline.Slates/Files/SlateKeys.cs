using PostPipeline.Studies.Briefs;
using static PostPipeline.Studies.Briefs.KeySpec;

namespace PostPipeline.Slates.Files;

/// <summary>Every key of a slate. The farm and the tiers have the keys that they have in a brief.</summary>
internal static class SlateKeys
{
    public static readonly string[] Standings = ["firm", "first-hold", "second-hold"];
    public static readonly string[] Levels = ["P50", "P80", "P90"];
    public static readonly string[] Carried = ["pulls", "remote"];
    private static readonly KeySpec[] Range =
    [
        Of(ValueKind.Date, "from", "the first day", "required") with { Required = true },
        Of(ValueKind.Date, "until", "the last day", "`from`"),
    ];

    public static readonly KeySpec[] Project =
    [
        Text("name", "the project's name, used once", "required", 60) with { Required = true },
        Text("brief", "its brief, a path from the folder of the slate", "required", 400) with { Required = true },
        Whole("priority", "weight of a day late against other projects", "1", 1, 100),
        Of(ValueKind.Date, "release", "the day from which its material comes; moves the shoot of the brief", "the brief's `shoot.starts`"),
        Of(ValueKind.Date, "due", "the delivery date, 18:00", "the brief's `deliver.due`"),
        Choices("pipelines", "the pipelines that it may take, proven or not", "the brief's, where no gate but the date fails or is unknown", BriefKeys.Pipelines),
        Choice("standing", "how sure it is to come", "firm", Standings),
        Of(ValueKind.Date, "expires", "the last day of a hold", "none; a hold must say"),
        Choice("running", "the pipeline on which it is under way", "nothing has started", BriefKeys.Pipelines),
    ];

    public static readonly KeySpec[] Person =
    [
        Text("name", "the person's name, used once", "required", 60) with { Required = true },
        Choices("skills", "what they can do", "required", [.. Files.Person.AllSkills]) with { Required = true },
        Of(ValueKind.Clock, "from", "when their work starts, local time", "09:00"),
        Of(ValueKind.Clock, "until", "when it ends, local time", "18:00"),
        Choices("days_off", "weekdays without work", "[saturday, sunday]", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"),
        Maps("booked", "days on which they are not to be had", "none", [Text("for", "what for", "leave", 60), .. Range]),
    ];

    public static readonly KeySpec[] Link =
    [
        Text("name", "the link's name, used once", "required", 40) with { Required = true },
        Choice("carries", "originals pulled back from nearline, or proxies to a remote editor", "pulls", Carried),
        Of(ValueKind.Rate, "rate", "what can be planned on", "900 MB/s"),
    ];

    public static readonly KeySpec[] Closure = [Text("what", "farm, a class of its nodes, suites or the name of a link", "required", 40) with { Required = true }, .. Range];

    public static readonly KeySpec[] Extra =
    [
        Text("name", "what is rented, used once", "required", 60) with { Required = true },
        Text("adds", "what one of it adds to: the name of a node class, a skill, suites, online or nearline (a usable TB)", "required", 40) with { Required = true },
        Whole("most", "the most that can be had at a time", "1", 1, 10_000),
        Whole("week_price", "one for a week, in whole currency units", "required", 0, 1_000_000_000) with { Required = true },
        Time("lead", "from the order to the first use", "0 d", 0, 366 * 86_400),
    ];

    public static readonly KeySpec[] Top =
    [
        Whole("slate", "the version of the file format", "required", 1, 1) with { Required = true },
        Text("title", "the slate's name", "Untitled", 80),
        Of(ValueKind.Zone, "time_zone", "the IANA time zone of dates and clocks", "UTC"),
        Of(ValueKind.Currency, "currency", "one ISO 4217 code for all money; XXX means none", "XXX"),
        Of(ValueKind.Date, "starts", "the first day of the plan", "required") with { Required = true },
        Of(ValueKind.Date, "today", "the day on which the slate is looked at", "`starts`"),
        Whole("weeks", "weeks of the plan", "26", 1, 104),
        Whole("seed", "the seed of what the projects share", "1", 0, long.MaxValue / 2),
        Number("confidence", "how sure each date must be", "0.9", 0.5, 0.999),
        Choice("level", "the level that durations are planned at", "P80", Levels),
        Maps("projects", "the projects", "required", Project),
        BriefKeys.Top.First(k => k.Name == "farm"),
        Map("storage", "the tiers that all share", Map("online", "the tier that editors and farm work on", BriefKeys.Tier), Map("nearline", "the tier that originals rest on", BriefKeys.Tier)),
        Whole("suites", "grading suites; 0 means they are not counted", "0", 0, 1000),
        Maps("people", "the people", "required", Person),
        Maps("links", "links that projects share", "none counted", Link),
        Maps("maintenance", "days on which something cannot be used", "none", Closure),
        Maps("extras", "what can be rented", "nothing", Extra),
    ];
}
