using NodaTime;
using PostPipeline.Quantities;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Files;

/// <summary>
/// Reads a slate and the briefs that it names. Every problem of all the files is found in one reading, each with its
/// file, line, column, key, value and what is allowed.
/// </summary>
public static class SlateReader
{
    /// <summary>The most projects of a slate.</summary>
    public const int MostProjects = 100;

    /// <summary>Reads a slate from a file; briefs lie beside it.</summary>
    /// <param name="path">A UTF-8 YAML file of at most 1 MB.</param>
    /// <exception cref="BriefException">The slate or one of its briefs cannot be used.</exception>
    public static Slate ReadFile(string path)
    {
        string folder = Path.GetDirectoryName(path) ?? string.Empty;
        return Read(path, BriefText.Read(path), brief => (Path.Combine(folder, brief), () => BriefText.Read(Path.Combine(folder, brief))));
    }

    /// <summary>Reads a slate from its text.</summary>
    /// <param name="file">What to call the file in messages.</param>
    /// <param name="text">YAML.</param>
    /// <param name="brief">What to call a brief in messages, and its text, from the path that the slate gives.</param>
    /// <exception cref="BriefException">The slate or one of its briefs cannot be used.</exception>
    public static Slate Read(string file, string text, Func<string, (string File, Func<string> Text)> brief)
    {
        BriefContext context = new(file);
        Section top = new(context, string.Empty, YamlTree.Read(file, text, "slate"), SlateKeys.Top);
        top.Whole("slate", 1);
        LocalDate starts = top.Date("starts") ?? new LocalDate(2100, 1, 1);
        LocalDate today = top.Date("today") ?? starts;
        int weeks = (int)top.Whole("weeks", 26);
        string currency = top.Currency("currency", "XXX");
        SlateProjects projects = new(brief, starts, today, weeks, currency);
        SlateMeans means = new(starts, starts.PlusWeeks(weeks));
        IReadOnlyList<SlateEntry> entries = projects.Read(top);
        Section farm = top.Map("farm");
        FarmPlan plan = SlateMeans.Farm(farm);
        int suites = (int)top.Whole("suites", 0);
        IReadOnlyList<Person> people = means.People(top);
        IReadOnlyList<SharedLink> links = SlateMeans.Links(top);
        Section storage = top.Map("storage");
        Slate slate = new(
            top.Text("title", "Untitled"),
            top.Zone("time_zone"),
            currency,
            today,
            starts,
            weeks,
            top.Whole("seed", 1),
            top.Number("confidence", 0.9),
            top.Choice("level", "P80"),
            entries,
            plan,
            [.. context.Inputs],
            new(BriefMeans.Tier(storage.Map("online")), BriefMeans.Tier(storage.Map("nearline"))),
            suites,
            people,
            links,
            SlateMeans.Closures(top, plan, links, suites),
            SlateMeans.Extras(top, plan, suites));
        IReadOnlyList<BriefProblem> problems = [.. context.Problems.Distinct().OrderBy(p => p.Line).ThenBy(p => p.Column), .. projects.Problems];
        return problems.Count == 0 ? slate : throw new BriefException(problems);
    }
}
