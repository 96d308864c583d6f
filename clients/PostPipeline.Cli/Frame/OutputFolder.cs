namespace PostPipeline.Cli.Frame;

/// <summary>
/// A folder that answers are written to. It is tried before anything is computed; a file is written to a temporary name
/// and renamed, so that nobody ever sees half of one.
/// </summary>
internal sealed class OutputFolder
{
    private OutputFolder(string path) => Path = path;

    public string Path { get; }

    /// <summary>Makes the folder where it is not there and tries to write in it.</summary>
    /// <exception cref="IOException">It cannot be made or written.</exception>
    public static OutputFolder Open(string path)
    {
        try
        {
            string full = System.IO.Path.GetFullPath(path);
            Directory.CreateDirectory(full);
            string probe = System.IO.Path.Combine(full, $".probe-{Guid.NewGuid():N}");
            using (File.Create(probe, 1, FileOptions.DeleteOnClose))
            {
            }

            return new(full);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new IOException($"the output folder '{path}' cannot be written: {error.Message}", error);
        }
    }

    public void Write(string name, string content)
    {
        string target = System.IO.Path.Combine(Path, name);
        string temporary = $"{target}.{Guid.NewGuid():N}.part";
        try
        {
            File.WriteAllText(temporary, content);
            File.Move(temporary, target, overwrite: true);
        }
        finally
        {
            File.Delete(temporary);
        }
    }
}
