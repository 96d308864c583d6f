using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace PostPipeline.Slates.Planning;

/// <summary>
/// SHA-256 of what the times of a plan hang on, so that a plan that was written down can tell whether it still fits: what
/// is shared, and the work of each project. Due dates, weights, standing and money may change under a plan and are left out.
/// </summary>
public static class PlanDigest
{
    /// <summary>Digest of the clock, the resources and the calendars that they work in, in hex.</summary>
    /// <param name="problem">The slate.</param>
    public static string OfHouse(SlateProblem problem)
    {
        Lines lines = new();
        lines.Add("clock", problem.Clock.Start.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture), problem.Clock.Slots);
        foreach (SlateResource resource in problem.Resources)
        {
            lines.Add("resource", resource.Name, resource.Kind, resource.Capacity, resource.Calendar);
            lines.AddAll("outage", resource.Outages, o => [o.From, o.Until, o.Amount]);
            if (resource.Rental is { } rental)
            {
                lines.Add("rental", rental.Most, rental.LeadSlots, rental.PeriodSlots);
            }
        }

        HashSet<string?> named = [.. problem.Resources.Select(r => r.Calendar)];
        lines.AddAll("calendar", problem.Calendars.Where(c => named.Contains(c.Name)), c => [c.Name, string.Concat(c.Open.Select(o => o ? '1' : '0'))]);
        return lines.Digest();
    }

    /// <summary>Digest of a project's work on each of its pipelines, in hex. Farm work counts to seven digits: the last ones differ between machines.</summary>
    /// <param name="project">The project.</param>
    public static string OfProject(SlateProject project)
    {
        Lines lines = new();
        lines.Add("project", project.Name, project.Release);
        foreach (SlateOption option in project.Options)
        {
            lines.Add("pipeline", option.Pipeline);
            foreach (SlateStage stage in option.Stages)
            {
                lines.Add("stage", stage.Name, stage.Duration, stage.Calendar, stage.NotBefore);
                lines.AddAll("after", stage.After, a => [a.Stage, a.LagSlots]);
                lines.AddAll("use", stage.Uses, u => [u.Resource, u.Amount]);
                foreach (FarmChoice farm in stage.Farm)
                {
                    lines.Add("farm", farm.Resource, farm.NodeHalfDays.ToString("G7", CultureInfo.InvariantCulture), string.Join(' ', farm.NodeCounts));
                    lines.AddAll("node uses", farm.PerNode, u => [u.Resource, u.Amount]);
                }
            }

            lines.AddAll("life", option.Lives, l => [l.Name, l.Storage, l.Amount, l.FromStage, l.UntilStage, l.LagSlots]);
        }

        return lines.Digest();
    }

    private sealed class Lines
    {
        private readonly StringBuilder text = new();

        // Names are quoted, so that no name can look like the parts of another line.
        public void Add(string what, params object?[] parts) => text.Append(what).Append('\t')
            .AppendJoin('\t', parts.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p}").Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\t", "\\t", StringComparison.Ordinal).Replace("\n", "\\n", StringComparison.Ordinal)))
            .Append('\n');

        public void AddAll<T>(string what, IEnumerable<T> items, Func<T, object?[]> parts)
        {
            foreach (T item in items)
            {
                Add(what, parts(item));
            }
        }

        public string Digest() => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
