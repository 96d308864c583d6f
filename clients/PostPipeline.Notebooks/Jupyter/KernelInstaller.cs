using System.Text.Json;
using System.Text.Json.Nodes;

namespace PostPipeline.Notebooks.Jupyter;

/// <summary>Writes the kernel's description where Jupyter looks for it.</summary>
public static class KernelInstaller
{
    /// <summary>Writes kernel.json.</summary>
    /// <param name="command">The program and arguments that start the kernel, before the connection file.</param>
    /// <param name="prefix">A prefix such as a virtual environment; null for the person's own folder.</param>
    /// <returns>The file written.</returns>
    public static string Install(IReadOnlyList<string> command, string? prefix)
    {
        string data = prefix is not null
            ? Path.Combine(prefix, "share", "jupyter")
            : Environment.GetEnvironmentVariable("JUPYTER_DATA_DIR")
                ?? Path.Combine(Environment.GetEnvironmentVariable("XDG_DATA_HOME") is { Length: > 0 } home ? home : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".local", "share"), "jupyter");
        string folder = Path.Combine(data, "kernels", "postpipeline");
        Directory.CreateDirectory(folder);
        string file = Path.Combine(folder, "kernel.json");
        JsonObject json = new()
        {
            ["argv"] = new JsonArray([.. command.Append("{connection_file}").Select(argument => JsonValue.Create(argument))]),
            ["display_name"] = "PostPipeline (C#)",
            ["language"] = "C#",
            ["interrupt_mode"] = "message",

            // Counting for later optimization only delays a process that lives for one notebook.
            ["env"] = new JsonObject { ["DOTNET_TieredPGO"] = "0" },
        };
        File.WriteAllText(file + ".part", json.ToJsonString(new JsonSerializerOptions { WriteIndented = true }));
        File.Move(file + ".part", file, overwrite: true);
        return file;
    }
}
