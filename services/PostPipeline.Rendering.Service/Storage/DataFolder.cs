namespace PostPipeline.Rendering.Service.Storage;

/// <summary>Where the rendering service keeps its sets and models.</summary>
public static class DataFolder
{
    /// <summary>The environment variable that names the folder.</summary>
    public const string Variable = "POSTPIPELINE_DATA";

    /// <summary>
    /// The folder to use: the one given, else that of <see cref="Variable"/>, else <c>postpipeline</c> in the data
    /// home of the XDG base directory specification.
    /// </summary>
    /// <param name="given">What the host was told; null or empty where nothing.</param>
    public static string Resolve(string? given)
    {
        if (!string.IsNullOrEmpty(given))
        {
            return Path.GetFullPath(given);
        }

        if (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } named)
        {
            return Path.GetFullPath(named);
        }

        string home = Environment.GetEnvironmentVariable("XDG_DATA_HOME") is { Length: > 0 } data && Path.IsPathRooted(data)
            ? data
            : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".local", "share");
        return Path.Combine(home, "postpipeline");
    }
}
