using NodaTime;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Files;

/// <summary>Reads the projects of a slate and their briefs.</summary>
internal sealed class SlateProjects(
    Func<string, (string File, Func<string> Text)> brief, LocalDate starts, LocalDate today, int weeks, string currency)
{
    private readonly List<BriefProblem> problems = [];

    /// <summary>Problems of the briefs.</summary>
    public IReadOnlyList<BriefProblem> Problems => problems;

    public IReadOnlyList<SlateEntry> Read(Section top)
    {
        IReadOnlyList<Section> sections = top.Maps("projects");
        if (sections.Count is 0 or > SlateReader.MostProjects)
        {
            top.Problem("projects", $"{sections.Count} projects are given; allowed is 1 to {SlateReader.MostProjects}");
        }

        List<SlateEntry> entries = [];
        HashSet<string> names = new(StringComparer.OrdinalIgnoreCase);
        foreach (Section section in sections.Take(SlateReader.MostProjects))
        {
            string name = section.Text("name", $"project {entries.Count + 1}");
            if (!names.Add(name))
            {
                section.Problem("name", $"two projects are named '{name}'; each name is used once, without regard to case");
            }

            if (Entry(section, name) is { } entry)
            {
                entries.Add(entry);
            }
        }

        OneWeightAFactor(entries, sections);
        return entries;
    }

    private SlateEntry? Entry(Section section, string name)
    {
        int priority = (int)section.Whole("priority", 1);
        LocalDate? release = section.Date("release");
        LocalDate? due = section.Date("due");
        string standing = section.Choice("standing", "firm");
        LocalDate? expires = section.Date("expires");
        Hold(section, standing, expires);
        IReadOnlyList<string> chosen = section.Choices("pipelines");
        string running = section.Choice("running", string.Empty);
        if (Brief(section) is not { } read)
        {
            return null;
        }

        if (read.Currency != currency)
        {
            section.Problem("brief", $"the brief counts money in {read.Currency}, the slate in {currency}; one currency is expected, and nothing is converted");
        }

        LocalDate from = release ?? read.Shoot.Starts;
        LocalDate until = due ?? read.Deliver.Due;
        LocalDate ends = starts.PlusWeeks(weeks);
        if (until >= ends || until < starts)
        {
            section.Problem(section.Has("due") ? "due" : "brief", $"it is due on {until:uuuu-MM-dd}; the slate plans from {starts:uuuu-MM-dd} to {ends.PlusDays(-1):uuuu-MM-dd}");
        }
        else if (from > until)
        {
            section.Problem(section.Has("release") ? "release" : "due", $"its material comes on {from:uuuu-MM-dd}, after it is due on {until:uuuu-MM-dd}");
        }

        IReadOnlyList<string> allowed = running.Length > 0 ? [running] : chosen.Count > 0 ? [.. chosen.Distinct()] : read.Pipelines;
        return new(
            name,
            read with { Pipelines = allowed, Shoot = read.Shoot with { Starts = from }, Deliver = read.Deliver with { Due = until } },
            priority,
            from,
            until,
            allowed,
            chosen.Count > 0 || running.Length > 0,
            standing,
            expires,
            running.Length > 0 ? running : null);
    }

    private void Hold(Section section, string standing, LocalDate? expires)
    {
        if (standing == "firm" && expires is not null)
        {
            section.Problem("expires", "a firm project does not expire; only a first-hold or a second-hold does");
        }
        else if (standing != "firm" && !section.Has("expires"))
        {
            section.Problem("expires", $"a {standing} must say when it expires; a date from {today:uuuu-MM-dd} on is expected");
        }
        else if (expires < today)
        {
            section.Problem("expires", $"the {standing} has expired: today is {today:uuuu-MM-dd}; renew it with a later date, make it firm or take it off the slate");
        }
    }

    private Brief? Brief(Section section)
    {
        string path = section.Text("brief", string.Empty);
        if (path.Length == 0)
        {
            return null;
        }

        (string file, Func<string> text) = brief(path);
        try
        {
            return BriefReader.Read(file, text());
        }
        catch (BriefException error)
        {
            // A file that cannot be had at all is a problem of the line that names it.
            BriefProblem[] whole = [.. error.Problems.Where(p => p.Line == 0)];
            foreach (BriefProblem problem in whole)
            {
                section.Problem("brief", $"the brief cannot be used: {problem.Message}; a path from the folder of the slate is expected");
            }

            problems.AddRange(error.Problems.Except(whole));
            return null;
        }
    }

    // A factor that two briefs name is one thing in the world, so it is drawn once and has one weight.
    private static void OneWeightAFactor(IReadOnlyList<SlateEntry> entries, IReadOnlyList<Section> sections)
    {
        Dictionary<string, (string Project, double Weight)> seen = [];
        foreach (SlateEntry entry in entries)
        {
            foreach (Estimate input in entry.Brief.Inputs.Where(i => i.Factor.Length > 0))
            {
                if (seen.TryGetValue(input.Factor, out (string Project, double Weight) first) && first.Project != entry.Name && first.Weight != input.Weight)
                {
                    sections.First(s => s.Text("name", string.Empty) == entry.Name).Problem(
                        "brief",
                        string.Create(
                            System.Globalization.CultureInfo.InvariantCulture,
                            $"the factor '{input.Factor}' has the weight {input.Weight:0.##} at {input.Key} on line {input.Line} of the brief and {first.Weight:0.##} in the brief of '{first.Project}'; one factor has one weight on a slate"));
                    break;
                }

                seen.TryAdd(input.Factor, (entry.Name, input.Weight));
            }
        }
    }
}
