using NodaTime;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Slates.Planning;

/// <summary>
/// Invented slates of any size, to try a planner on. The farm load is the work of every project's cheapest pipeline over
/// what the farm can do in the weeks of the slate; since nothing is released at the end and nothing rendered at the start,
/// the farm is fuller than that in between.
/// </summary>
public static class SlateGenerator
{
    // The load of the graphics nodes over that of the nodes: all renders fall into the later weeks.
    private const double GraphicsShare = 0.75;

    // Half-days after the weeks of the slate in which late work may still end.
    private const int Overrun = 16 * 14;

    /// <summary>Makes a slate: three pipelines a project, two farm classes, people, suites, licences, storage and a link.</summary>
    /// <param name="projects">Projects, 1 to 1,000.</param>
    /// <param name="load">Load of the farm, above 0 to 2.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="weeks">Weeks of the slate, 8 to 200.</param>
    public static SlateProblem Create(int projects, double load, int seed, int weeks = 26)
    {
        Guard.InRange(projects, 1, SlateChecking.MostProjects);
        Guard.Finite(load, 1e-6, 2);
        Guard.InRange(weeks, 8, 200);
        int slots = weeks * 14;
        SlateClock clock = new(new LocalDate(2030, 1, 7), slots + Overrun);
        RandomStream random = new(seed, RandomPurpose.Slates, 0, projects);
        List<Draft> drafts = [.. Enumerable.Range(0, projects).Select(_ => Draft.Of(ref random))];

        long nodes = Math.Max(6, (long)Math.Round(projects * 1.2));
        long graphics = Math.Max(4, (long)Math.Round(projects * 0.5));
        double nodeScale = load * nodes * slots / drafts.Sum(d => d.NodeWork(d.Cheapest));
        double graphicsScale = GraphicsShare * load * graphics * slots / drafts.Sum(d => d.GraphicsWork(d.Cheapest));
        long assistants = People(drafts.Sum(d => d.AssistantSlots(d.Cheapest)), slots);
        long colourists = People(drafts.Sum(d => (double)d.Grade), slots);
        long online = (long)Math.Ceiling(drafts.Sum(d => d.Terabytes * Draft.OnlineShare(d.Cheapest) * d.Length) / slots * 1.8) + 120;

        List<SlateProject> made = [];
        for (int i = 0; i < projects; i++)
        {
            made.Add(drafts[i].ToProject($"project {i + 1:D3}", slots, nodes, graphics, nodeScale, graphicsScale));
        }

        return new()
        {
            Clock = clock,
            Calendars = [new("weekdays", [.. Enumerable.Range(0, clock.Slots).Select(s => s / 2 % 7 < 5)])],
            Resources =
            [
                new("nodes", SlateResourceKind.FarmClass, nodes)
                {
                    Unit = "nodes",
                    Outages = [.. Enumerable.Range(1, (weeks / 4) - 1).Select(m => new SlateOutage(m * 56, (m * 56) + 2, Math.Max(1, nodes / 4), "maintenance"))],
                    Rental = new(900, (int)Math.Max(2, nodes / 4), 6),
                },
                new("graphics nodes", SlateResourceKind.FarmClass, graphics) { Unit = "nodes", Rental = new(1800, (int)Math.Max(1, graphics / 5), 6) },
                new("assistants", SlateResourceKind.People, assistants) { Unit = "people", Calendar = "weekdays", Rental = new(2200, 2, 14) },
                new("colourists", SlateResourceKind.People, colourists) { Unit = "people", Calendar = "weekdays", Outages = [new(140, 154, 1, "leave")] },
                new("grading suites", SlateResourceKind.Suite, colourists + 1) { Unit = "suites" },
                new("render licences", SlateResourceKind.Licence, graphics) { Unit = "licences", Rental = new(150, (int)graphics, 2) },
                new("online", SlateResourceKind.Storage, online) { Unit = "TB", Rental = new(40, (int)Math.Max(50, online / 4), 6) },
                new("link", SlateResourceKind.Link, Math.Max(6, projects / 4)) { Unit = "TB a half-day" },
            ],
            Projects = made,
        };
    }

    // Half of their open half-days, and never fewer than two.
    private static long People(double work, int slots) => Math.Max(2, (long)Math.Ceiling(work / (slots * 5.0 / 7) / 0.5));
}
