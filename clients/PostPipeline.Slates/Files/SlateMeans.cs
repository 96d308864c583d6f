using NodaTime;
using PostPipeline.Quantities;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Files;

/// <summary>Reads what the projects of a slate share: farm, people, links, maintenance, extras.</summary>
internal sealed class SlateMeans(LocalDate starts, LocalDate ends)
{
    /// <summary>The most people, links, closures or extras.</summary>
    private const int Most = 1000;

    public static FarmPlan Farm(Section s)
    {
        FarmPlan plan = BriefMeans.Farm(s);
        if (!s.Has("nodes") || plan.Nodes.Sum(n => (long)n.Count) == 0)
        {
            s.Problem("nodes", "the farm has no nodes; at least one class with a count of 1 or more is expected, such as '- {name: tall, count: 8}'");
        }

        Once(s, "nodes", plan.Nodes.Select(n => n.Name));
        return plan;
    }

    public IReadOnlyList<Person> People(Section top)
    {
        IReadOnlyList<Section> sections = Bounded(top, "people");
        List<Person> people = [.. sections.Select(Person)];
        Once(top, "people", people.Select(p => p.Name));
        foreach (string skill in Files.Person.AllSkills.Where(s => !people.Exists(p => p.Skills.Contains(s))))
        {
            top.Problem("people", $"nobody has the skill '{skill}'; every project needs somebody with it");
        }

        return people;
    }

    public static IReadOnlyList<SharedLink> Links(Section top)
    {
        List<SharedLink> links = [.. Bounded(top, "links").Select(s => new SharedLink(
            s.Text("name", "link"), s.Choice("carries", "pulls"), s.Rate("rate", DataRate.FromBytesPerSecond(900_000_000))))];
        Once(top, "links", links.Select(l => l.Name));
        foreach (string carried in links.GroupBy(l => l.Carries).Where(g => g.Count() > 1).Select(g => g.Key))
        {
            top.Problem("links", $"two links carry '{carried}'; one is expected, with the rates added up");
        }

        return links;
    }

    public static IReadOnlyList<Closure> Closures(Section top, FarmPlan farm, IReadOnlyList<SharedLink> links, int suites)
    {
        List<Closure> closures = [];
        string[] known = ["farm", .. farm.Nodes.Select(n => n.Name), .. suites > 0 ? ["suites"] : Array.Empty<string>(), .. links.Select(l => l.Name)];
        foreach (Section s in Bounded(top, "maintenance"))
        {
            string what = s.Text("what", "farm");
            if (!known.Contains(what))
            {
                s.Problem("what", $"this is not known on the slate; allowed is {string.Join(", ", known)}");
            }

            (LocalDate from, LocalDate until) = Range(s);
            closures.Add(new(what, from, until));
        }

        return closures;
    }

    public static IReadOnlyList<Extra> Extras(Section top, FarmPlan farm, int suites)
    {
        List<Extra> extras = [];
        string[] known = [.. farm.Nodes.Select(n => n.Name), .. Files.Person.AllSkills, .. suites > 0 ? ["suites"] : Array.Empty<string>(), "online", "nearline"];
        foreach (Section s in Bounded(top, "extras"))
        {
            string adds = s.Text("adds", known[0]);
            if (!known.Contains(adds))
            {
                s.Problem("adds", $"this is not known on the slate; allowed is {string.Join(", ", known)}");
            }
            else if (extras.Exists(e => e.Adds == adds))
            {
                s.Problem("adds", $"'{adds}' can be rented already; one offer for each is expected");
            }

            extras.Add(new(s.Text("name", "extra"), adds, (int)s.Whole("most", 1), s.Whole("week_price", 0), (int)Math.Ceiling(s.Seconds("lead", 0) / 86_400)));
        }

        Once(top, "extras", extras.Select(e => e.Name));
        return extras;
    }

    private Person Person(Section s)
    {
        Person person = new(
            s.Text("name", "somebody"),
            [.. s.Choices("skills").Distinct()],
            s.Clock("from", new LocalTime(9, 0)),
            s.Clock("until", new LocalTime(18, 0)),
            BriefMeans.Weekdays(s, "days_off", "saturday", "sunday"),
            Bookings(s));
        if (person.Skills.Count == 0)
        {
            s.Problem("skills", $"a person with no skill; allowed is {string.Join(", ", Files.Person.AllSkills)}");
        }

        if (person.Until <= person.From)
        {
            s.Problem(s.Has("until") ? "until" : "from", $"work ends at {person.Until:HH:mm}, not after its start at {person.From:HH:mm}");
        }

        int days = Period.DaysBetween(starts, ends);
        if (days > 0 && !Enumerable.Range(0, days).Any(d => person.Works(starts.PlusDays(d))))
        {
            s.Problem(s.Has("booked") ? "booked" : "days_off", $"no working day is left between {starts:uuuu-MM-dd} and {ends.PlusDays(-1):uuuu-MM-dd}; at least one is expected");
        }

        return person;
    }

    private static List<Booking> Bookings(Section s)
    {
        List<Booking> bookings = [];
        foreach (Section b in Bounded(s, "booked"))
        {
            (LocalDate from, LocalDate until) = Range(b);
            Booking booking = new(b.Text("for", "leave"), from, until);
            if (bookings.Find(o => o.From <= booking.Until && booking.From <= o.Until) is { } other)
            {
                b.Problem("from", $"{s.Text("name", "somebody")} is double-booked: '{other.For}' from {other.From:uuuu-MM-dd} to {other.Until:uuuu-MM-dd} and '{booking.For}' from {booking.From:uuuu-MM-dd} to {booking.Until:uuuu-MM-dd}; days that do not meet are expected");
            }

            bookings.Add(booking);
        }

        return bookings;
    }

    private static (LocalDate From, LocalDate Until) Range(Section s)
    {
        LocalDate from = s.Date("from") ?? new LocalDate(2100, 1, 1);
        LocalDate until = s.Date("until") ?? from;
        if (until < from)
        {
            s.Problem("until", $"the last day lies before the first, {from:uuuu-MM-dd}");
        }

        return (from, until);
    }

    private static IReadOnlyList<Section> Bounded(Section s, string key)
    {
        IReadOnlyList<Section> sections = s.Maps(key);
        if (sections.Count > Most)
        {
            s.Problem(key, $"{sections.Count} stand here; allowed is at most {Most}");
        }

        return [.. sections.Take(Most)];
    }

    private static void Once(Section section, string key, IEnumerable<string> names)
    {
        foreach (string name in names.GroupBy(n => n, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1).Select(g => g.Key))
        {
            section.Problem(key, $"'{name}' stands twice; each name is used once");
        }
    }
}
