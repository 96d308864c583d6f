using Google.Protobuf.Collections;
using PostPipeline.Contracts.Rendering.V1;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>
/// What a request gave and what has no effect. Speeds and weights that are written once for many lists of jobs may name
/// classes and projects which are absent today, so this is no error; but a misspelt name looks the same, so it is said.
/// </summary>
internal static class FarmNotes
{
    // A list of a thousand is the same news.
    private const int Most = 32;
    private const int MostNames = 10;

    public static IReadOnlyList<string> Of(Farm farm, RepeatedField<FarmJob> jobs)
    {
        List<string> notes = [];
        HashSet<string> classes = [.. jobs.Select(j => j.JobClass), .. farm.Competing.Select(c => c.JobClass)];
        HashSet<string> projects = [.. jobs.Select(j => j.Project), .. farm.Competing.Select(c => c.Project)];
        HashSet<string> licences = [.. jobs.Select(j => j.Licence)];
        for (int i = 0; i < farm.NodeClasses.Count; i++)
        {
            NodeClass node = farm.NodeClasses[i];
            string at = $"farm.node_classes[{i}]";
            notes.AddRange(Absent(node.SpeedByJobClass.Keys, classes).Select(c => $"{at}.speed_by_job_class[{c}] has no effect: no job is of that class; {Named(classes, "job class")}"));
            Say(notes, node.SlowProbability == 0 && (node.SlowFactorLow != 0 || node.SlowFactorHigh != 0), $"{at}.slow_factor_low and slow_factor_high have no effect: slow_probability is 0");
            Say(notes, node.MeanUpSeconds == 0 && node.MeanDownSeconds > 0, $"{at}.mean_down_seconds has no effect: mean_up_seconds is 0, so no node goes down");
        }

        if (farm.Sharing == SharingRule.Fair)
        {
            notes.AddRange(Absent(farm.ProjectWeights.Keys, projects).Select(p => $"farm.project_weights[{p}] has no effect: no job belongs to that project; {Named(projects, "project")}"));
        }
        else
        {
            Say(notes, farm.ProjectWeights.Count > 0, "farm.project_weights have no effect: sharing is strict");
        }

        Say(notes, farm.Nights.Count > 0 && farm.NightFailureProbability == 0, "farm.nights have no effect: night_failure_probability is 0");
        notes.AddRange(Absent(farm.Licences.Keys, licences).Select(l => $"farm.licences[{l}] has no effect: no job needs it; {Named(licences, "licence")}"));
        Say(notes, farm.StorageBytesPerSecond > 0 && jobs.All(j => j.ReadBytesPerFrame == 0 && j.WriteBytesPerFrame == 0), "farm.storage_bytes_per_second has no effect: no job reads or writes");
        return notes.Count <= Most ? notes : [.. notes.Take(Most), $"and {notes.Count - Most} more of the kind"];
    }

    private static IEnumerable<string> Absent(IEnumerable<string> given, HashSet<string> known) => given.Where(g => !known.Contains(g)).Order(StringComparer.Ordinal);

    private static string Named(HashSet<string> known, string what)
    {
        string[] names = [.. known.Where(n => n.Length > 0).Order(StringComparer.Ordinal)];
        return names.Length == 0 ? $"no job names a {what}" : $"named here: {string.Join(", ", names.Take(MostNames))}{(names.Length > MostNames ? " …" : string.Empty)}";
    }

    private static void Say(List<string> notes, bool condition, string note)
    {
        if (condition)
        {
            notes.Add(note);
        }
    }
}
