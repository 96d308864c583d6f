using System.Globalization;

namespace PostPipeline.Notebooks.Tests.Support;

/// <summary>Where a process and its children listen, as Linux says (proc(5): /proc/[pid]/fd, /proc/net/tcp, state 0A is listening).</summary>
internal static class Sockets
{
    /// <summary>The children of a process, and theirs.</summary>
    public static IReadOnlyList<int> TreeOf(int process)
    {
        ILookup<int, int> children = Directory.GetDirectories("/proc")
            .Select(folder => int.TryParse(Path.GetFileName(folder), CultureInfo.InvariantCulture, out int id) ? id : 0)
            .Where(id => id > 0)
            .Select(id => (Id: id, Parent: ParentOf(id)))
            .ToLookup(p => p.Parent, p => p.Id);
        List<int> tree = [process];
        for (int i = 0; i < tree.Count; i++)
        {
            tree.AddRange(children[tree[i]]);
        }

        return tree;
    }

    /// <summary>The addresses that processes listen on, as the kernel writes them in hexadecimal: 127.0.0.1 is 0100007F.</summary>
    public static IReadOnlyList<(int Process, string Address)> Listening(IEnumerable<int> processes)
    {
        Dictionary<string, string> byInode = new[] { "/proc/net/tcp", "/proc/net/tcp6" }.Where(File.Exists)
            .SelectMany(table => File.ReadLines(table).Skip(1))
            .Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Where(fields => fields[3] == "0A")
            .GroupBy(fields => fields[9])
            .ToDictionary(g => $"socket:[{g.Key}]", g => g.First()[1].Split(':')[0]);
        return [.. processes.SelectMany(id => DescriptorsOf(id).Where(byInode.ContainsKey).Select(link => (id, byInode[link])))];
    }

    private static IEnumerable<string> DescriptorsOf(int process)
    {
        string folder = $"/proc/{process}/fd";
        return Directory.Exists(folder) ? Directory.GetFileSystemEntries(folder).Select(TargetOf).OfType<string>() : [];
    }

    // A descriptor may be closed between the listing and the look.
    private static string? TargetOf(string link)
    {
        try
        {
            return new FileInfo(link).LinkTarget;
        }
        catch (IOException)
        {
            return null;
        }
    }

    private static int ParentOf(int process)
    {
        try
        {
            string line = File.ReadAllText($"/proc/{process}/stat");
            return int.Parse(line[(line.LastIndexOf(')') + 1)..].Split(' ', StringSplitOptions.RemoveEmptyEntries)[1], CultureInfo.InvariantCulture);
        }
        catch (IOException)
        {
            return 0;
        }
    }
}
