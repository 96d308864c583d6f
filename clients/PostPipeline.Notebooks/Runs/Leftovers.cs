using System.Diagnostics;
using System.Globalization;
using System.Text;

namespace PostPipeline.Notebooks.Runs;

/// <summary>
/// Ends what a notebook started and left behind. A run has a mark of its own in its environment, which children inherit;
/// where the system does not show environments (it is looked up under /proc), nothing is found and nothing is ended.
/// </summary>
internal static class Leftovers
{
    /// <summary>The variable that carries the mark.</summary>
    public const string Variable = "POSTPIPELINE_RUN";

    /// <summary>Ends every process that carries the mark.</summary>
    /// <param name="mark">A mark that no other run has.</param>
    public static void End(string mark)
    {
        if (!Directory.Exists("/proc"))
        {
            return;
        }

        byte[] wanted = Encoding.UTF8.GetBytes($"{Variable}={mark}\0");
        foreach (string folder in Directory.EnumerateDirectories("/proc"))
        {
            if (int.TryParse(Path.GetFileName(folder), NumberStyles.None, CultureInfo.InvariantCulture, out int id) && id != Environment.ProcessId && Carries(folder, wanted))
            {
                try
                {
                    using Process left = Process.GetProcessById(id);
                    left.Kill(entireProcessTree: true);
                }
                catch (Exception problem) when (problem is ArgumentException or InvalidOperationException or System.ComponentModel.Win32Exception)
                {
                    // It ended by itself meanwhile, or is not ours to end.
                }
            }
        }
    }

    private static bool Carries(string folder, byte[] wanted)
    {
        try
        {
            return File.ReadAllBytes(Path.Combine(folder, "environ")).AsSpan().IndexOf(wanted) >= 0;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }
}
