using NodaTime;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Slates.Options;

/// <summary>What a slate's projects share, as resources with calendars for the planner.</summary>
public sealed class SlateCapacities
{
    /// <summary>Bytes of a unit of storage: a tenth of a TB.</summary>
    public const double StorageUnit = 1e11;

    private readonly Slate slate;
    private readonly SlateClock clock;
    private readonly List<SlateResource> resources = [];
    private readonly List<SlateCalendar> calendars = [];
    private readonly Dictionary<string, double> hours = [];

    /// <summary>Builds the resources.</summary>
    /// <param name="slate">The slate.</param>
    /// <param name="time">Its clock.</param>
    public SlateCapacities(Slate slate, SlateTime time)
    {
        (this.slate, clock) = (slate, time.Clock);
        AddFarm();
        AddPeople();
        if (slate.Suites > 0)
        {
            bool[] open = [.. Slots(date => !Closed("suites", date))];
            calendars.Add(new("suites", open));
            resources.Add(new("suites", SlateResourceKind.Suite, slate.Suites) { Calendar = "suites", Rental = Rental("suites"), Unit = "suites" });
        }

        foreach (SharedLink link in slate.Links)
        {
            calendars.Add(new(link.Name, [.. Slots(date => !Closed(link.Name, date))]));
            resources.Add(new(link.Name, SlateResourceKind.Link, 100) { Calendar = link.Name, Unit = "%" });
        }

        AddTier("online");
        AddTier("nearline");
    }

    /// <summary>The resources.</summary>
    public IReadOnlyList<SlateResource> Resources => resources;

    /// <summary>Their calendars.</summary>
    public IReadOnlyList<SlateCalendar> Calendars => calendars;

    /// <summary>Hours of work in an open half-day of the farm or of a skill.</summary>
    /// <param name="resource">farm or a skill.</param>
    public double HoursOf(string resource) => hours[resource];

    /// <summary>All resources that a person of a skill takes: the skill itself, and each group of skills that some people share.</summary>
    /// <param name="skill">The skill.</param>
    public IEnumerable<string> People(string skill) => resources.Where(r => r.Kind == SlateResourceKind.People && r.Name.Split(" or ").Contains(skill)).Select(r => r.Name);

    private void AddFarm()
    {
        Flows.Windows open = new StudyClock(slate.Zone, slate.Starts).FarmHours(slate.Farm, slate.Starts.PlusDays(-1), (clock.Slots / 2) + 2);
        StudyClock study = new(slate.Zone, slate.Starts);
        bool[] slots = new bool[clock.Slots];
        double seconds = 0;
        for (int slot = 0; slot < clock.Slots; slot++)
        {
            LocalDate date = clock.DateOf(slot);
            bool second = SlateClock.IsSecondHalf(slot);
            long from = study.At(date, second ? new LocalTime(12, 0) : LocalTime.Midnight);
            long until = second ? study.At(date.PlusDays(1), LocalTime.Midnight) : study.At(date, new LocalTime(12, 0));
            long inside = open.OpenBetween(from, until);
            slots[slot] = inside >= 3600 && !Closed("farm", date);
            seconds += slots[slot] ? inside : 0;
        }

        hours["farm"] = seconds / 3600 / Math.Max(1, slots.Count(s => s));
        calendars.Add(new("farm", slots));
        foreach (Studies.Briefs.NodeClass node in slate.Farm.Nodes.Where(n => n.Count > 0))
        {
            string calendar = "farm";
            if (slate.Closures.Any(c => c.What == node.Name))
            {
                calendar = $"farm, {node.Name}";
                calendars.Add(new(calendar, [.. slots.Select((isOpen, slot) => isOpen && !Closed(node.Name, clock.DateOf(slot)))]));
            }

            resources.Add(new(node.Name, SlateResourceKind.FarmClass, node.Count) { Calendar = calendar, Rental = Rental(node.Name), Unit = "nodes" });
        }

        if (slate.Farm.Licences > 0)
        {
            resources.Add(new("licences", SlateResourceKind.Licence, slate.Farm.Licences) { Unit = "licences" });
        }
    }

    // People with two skills are in one place at a time: each group of skills that somebody shares is counted too.
    private void AddPeople()
    {
        IReadOnlyList<string> skills = Person.AllSkills;
        for (int mask = 1; mask < 1 << skills.Count; mask++)
        {
            string[] group = [.. skills.Where((_, i) => (mask & (1 << i)) != 0)];
            Person[] people = [.. slate.People.Where(p => p.Skills.Any(group.Contains))];
            if (people.Length == 0 || (group.Length > 1 && !people.Any(p => p.Skills.Count(group.Contains) > 1)))
            {
                continue;
            }

            string name = string.Join(" or ", group);
            int[] there = [.. Enumerable.Range(0, clock.Slots).Select(slot => people.Count(p => p.Works(clock.DateOf(slot))))];
            calendars.Add(new(name, [.. there.Select(n => n > 0)]));
            hours[name] = people.Average(p => p.Hours) / 2;
            SlateRental? rental = group.Length == 1
                ? Rental(name)
                : slate.Extras.Any(e => group.Contains(e.Adds)) ? new(0, slate.Extras.Where(e => group.Contains(e.Adds)).Sum(e => e.Most), 0) : null;
            resources.Add(new(name, SlateResourceKind.People, people.Length) { Calendar = name, Outages = [.. Away(there, people.Length)], Rental = rental, Unit = "people" });
        }
    }

    private static IEnumerable<SlateOutage> Away(int[] there, int all)
    {
        int from = 0;
        for (int slot = 1; slot <= there.Length; slot++)
        {
            if (slot == there.Length || there[slot] != there[from])
            {
                // A day on which nobody works is closed by the calendar; taking people away then would stop what waits over it.
                if (there[from] > 0 && there[from] < all)
                {
                    yield return new(from, slot, all - there[from], "away");
                }

                from = slot;
            }
        }
    }

    private void AddTier(string tier)
    {
        double usable = slate.Storage.Of(tier).UsableBytes;
        if (double.IsFinite(usable))
        {
            resources.Add(new(tier, SlateResourceKind.Storage, (long)Math.Floor(usable / StorageUnit)) { Rental = Rental(tier), Unit = "tenths of a TB" });
        }
    }

    private SlateRental? Rental(string adds)
    {
        if (slate.Extras.FirstOrDefault(e => e.Adds == adds) is not { } extra)
        {
            return null;
        }

        bool storage = adds is "online" or "nearline";
        return new(storage ? (extra.WeekPrice + 9) / 10 : extra.WeekPrice, storage ? extra.Most * 10 : extra.Most, extra.LeadDays * 2);
    }

    private bool Closed(string what, LocalDate date) => slate.Closures.Any(c => c.What == what && c.Covers(date));

    private IEnumerable<bool> Slots(Func<LocalDate, bool> open) => Enumerable.Range(0, clock.Slots).Select(slot => open(clock.DateOf(slot)));
}
