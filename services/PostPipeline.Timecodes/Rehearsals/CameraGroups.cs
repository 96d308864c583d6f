using System.Text;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>
/// Groups cameras that can be taken for each other: they share a reel, as the list writes it, or a clip name. Within a
/// group every combination of behaviours must be tried; across groups it need not, so that the work stays linear.
/// </summary>
internal static class CameraGroups
{
    /// <summary>Places of takes by group.</summary>
    public static List<List<int>> Of(RehearsalPlan plan)
    {
        int[] parent = [.. Enumerable.Range(0, plan.Cameras.Length)];
        Dictionary<string, int> firstCamera = new(StringComparer.Ordinal);
        foreach (RehearsalTake take in plan.Takes)
        {
            Join(parent, firstCamera, "reel " + Folded(Cut(take.Reel, plan.ReelCharacters)), take.Camera);
            Join(parent, firstCamera, "clip " + Folded(take.Clip), take.Camera);
        }

        Dictionary<int, List<int>> groups = [];
        for (int i = 0; i < plan.Takes.Length; i++)
        {
            int root = Root(parent, plan.Takes[i].Camera);
            if (!groups.TryGetValue(root, out List<int>? members))
            {
                groups.Add(root, members = []);
            }

            members.Add(i);
        }

        return [.. groups.OrderBy(g => g.Key).Select(g => g.Value)];
    }

    /// <summary>A reel as the list writes it.</summary>
    public static string Cut(string reel, int characters) => characters > 0 && reel.Length > characters ? reel[..characters] : reel;

    /// <summary>A name as it is compared: without file extension and without regard to case.</summary>
    public static string Folded(string name) => Encoding.UTF8.GetString(FoldedText.Stem(Encoding.UTF8.GetBytes(name))).ToUpperInvariant();

    private static void Join(int[] parent, Dictionary<string, int> firstCamera, string key, int camera)
    {
        if (!firstCamera.TryAdd(key, camera) && Root(parent, firstCamera[key]) is var a && Root(parent, camera) is var b && a != b)
        {
            parent[Math.Max(a, b)] = Math.Min(a, b);
        }
    }

    private static int Root(int[] parent, int camera)
    {
        while (parent[camera] != camera)
        {
            camera = parent[camera] = parent[parent[camera]];
        }

        return camera;
    }
}
