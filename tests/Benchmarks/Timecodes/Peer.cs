using System.Diagnostics;
using System.Globalization;

namespace PostPipeline.Benchmarks.Timecodes;

/// <summary>A general-purpose library measured beside ours, in its own language, in a temporary folder of its own.</summary>
/// <param name="Name">What is printed.</param>
/// <param name="Required">Whether the ratio to it is a promise.</param>
/// <param name="Prepare">Sets the peer up in a folder; returns the command line to run, or the reason why it cannot.</param>
internal sealed record Peer(string Name, bool Required, Func<string, (string[] Command, string Reason)> Prepare)
{
    private const string LibavutilFlags = "POSTPIPELINE_LIBAVUTIL_FLAGS";

    /// <summary>All peers.</summary>
    public static IReadOnlyList<Peer> All { get; } =
    [
        new("the same through libavutil (C)", true, Libavutil),
        new("the same through npm smpte-timecode (node)", false, SmpteTimecode),
    ];

    private static string Sources => Path.Combine(SourceFolder(), "peers");

    /// <summary>Runs the peer: it prints nanoseconds per round trip, the sum of the indexes and a hash of the labels.</summary>
    public bool TryMeasure(int labels, int stride, out double nanoseconds, out (long Sum, long Hash) result, out string reason)
    {
        (nanoseconds, result) = (0, default);
        string folder = Directory.CreateTempSubdirectory("timecode-peer-").FullName;
        try
        {
            (string[] command, reason) = Prepare(folder);
            if (reason.Length > 0)
            {
                return false;
            }

            (int code, string output) = Start(folder, [.. command, $"{labels}", $"{stride}"]);
            string[] numbers = output.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            if (code != 0 || numbers.Length != 3)
            {
                reason = $"it ended with {code}: {output}";
                return false;
            }

            nanoseconds = double.Parse(numbers[0], CultureInfo.InvariantCulture);
            result = (long.Parse(numbers[1], CultureInfo.InvariantCulture), long.Parse(numbers[2], CultureInfo.InvariantCulture));
            return true;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static (string[] Command, string Reason) Libavutil(string folder)
    {
        string program = Path.Combine(folder, "peer");

        // Headers and library in an unusual place: name them in the variable.
        string[] flags = (Environment.GetEnvironmentVariable(LibavutilFlags) ?? string.Empty).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        (int code, string output) = Start(folder, ["cc", "-O2", "-o", program, Path.Combine(Sources, "libavutil_round_trip.c"), .. flags, "-lavutil"]);
        return code == 0
            ? ([program], string.Empty)
            : ([], $"cc cannot build against libavutil (Debian: gcc, libavutil-dev; or {LibavutilFlags}): {output.Split('\n')[0]}");
    }

    private static (string[] Command, string Reason) SmpteTimecode(string folder)
    {
        (int code, string output) = Start(folder, ["npm", "install", "--silent", "--no-audit", "--no-fund", "--prefix", folder, "smpte-timecode@1.3.6"]);
        File.Copy(Path.Combine(Sources, "smpte_timecode_round_trip.js"), Path.Combine(folder, "peer.js"));
        return code == 0
            ? (["node", Path.Combine(folder, "peer.js")], string.Empty)
            : ([], $"npm cannot install smpte-timecode: {output.Split('\n')[0]}");
    }

    private static (int Code, string Output) Start(string folder, string[] command)
    {
        ProcessStartInfo start = new(command[0], command[1..])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder,
        };
        try
        {
            using Process process = Process.Start(start)!;
            Task<string> errors = process.StandardError.ReadToEndAsync();
            string output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return (process.ExitCode, process.ExitCode == 0 ? output.Trim() : $"{output}{errors.Result}".Trim());
        }
        catch (System.ComponentModel.Win32Exception missing)
        {
            return (-1, missing.Message);
        }
    }

    private static string SourceFolder([System.Runtime.CompilerServices.CallerFilePath] string path = "") => Path.GetDirectoryName(path)!;
}
