using System.Runtime.CompilerServices;
using Xunit;

namespace PostPipeline.Testing;

/// <summary>Finds outside tables (copied into the tests) and outside data (found by POSTPIPELINE_CHECKS).</summary>
public static class Outside
{
    /// <summary>The name of the environment variable that points at the folder of outside data.</summary>
    public const string Variable = "POSTPIPELINE_CHECKS";

    /// <summary>The tests folder of this checkout.</summary>
    public static string TestsFolder => Path.GetDirectoryName(Path.GetDirectoryName(ThisFile()))!;

    /// <summary>The root of this checkout.</summary>
    public static string Root => Path.GetDirectoryName(TestsFolder)!;

    /// <summary>A table copied into tests/Tables, by its path there.</summary>
    /// <param name="name">For example timecode/timecode_checks.csv.</param>
    public static string Table(string name) => Path.Combine(TestsFolder, "Tables", name);

    /// <summary>A data file or folder outside the checkout; the test is skipped, with the reason, where it is not to be had.</summary>
    /// <param name="name">For example nist_strd/Longley.dat.</param>
    public static string Data(string name)
    {
        string? folder = Environment.GetEnvironmentVariable(Variable);
        string path = Path.Combine(folder ?? string.Empty, name);
        bool there = !string.IsNullOrEmpty(folder) && (File.Exists(path) || Directory.Exists(path));
        Need(there, string.IsNullOrEmpty(folder) ? $"{Variable} is not set" : $"{path} is not there");
        return path;
    }

    /// <summary>
    /// Skips the test with a reason where an optional part is absent, or fails it where
    /// POSTPIPELINE_REQUIRE_OPTIONAL=1 says that every optional part must be there.
    /// </summary>
    /// <param name="present">Whether the part is there.</param>
    /// <param name="reason">What is missing.</param>
    public static void Need(bool present, string reason)
    {
        if (!present && Environment.GetEnvironmentVariable("POSTPIPELINE_REQUIRE_OPTIONAL") == "1")
        {
            Assert.Fail($"required here, but {reason}");
        }

        Skip.IfNot(present, reason);
    }

    /// <summary>The path of a program found on PATH, or a skipped test.</summary>
    /// <param name="name">For example ffmpeg.</param>
    public static string Program(string name)
    {
        string? found = (Environment.GetEnvironmentVariable("PATH") ?? string.Empty).Split(Path.PathSeparator)
            .Select(folder => Path.Combine(folder, name)).FirstOrDefault(File.Exists);
        Need(found is not null, $"{name} is not installed");
        return found!;
    }

    private static string ThisFile([CallerFilePath] string path = "") => path;
}
