using Google.Protobuf;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Farms;

/// <summary>
/// Reads a farm and its jobs from a YAML file. The keys are the fields of the request that the farm service takes; amounts
/// may carry units, and windows may be written as hours of the day.
/// </summary>
public static class FarmFile
{
    /// <summary>Reads a file.</summary>
    /// <typeparam name="T">The request.</typeparam>
    /// <param name="path">A UTF-8 YAML file of at most 1 MB.</param>
    /// <exception cref="BriefException">The file cannot be used; every problem is listed with its line.</exception>
    public static T ReadFile<T>(string path)
        where T : IMessage<T>, new() =>
        Read<T>(path, BriefText.Read(path));

    /// <summary>Reads a text.</summary>
    /// <typeparam name="T">The request.</typeparam>
    /// <param name="file">What to call the file in messages.</param>
    /// <param name="text">YAML.</param>
    /// <exception cref="BriefException">The text cannot be used.</exception>
    public static T Read<T>(string file, string text)
        where T : IMessage<T>, new()
    {
        List<BriefProblem> problems = [];
        T message = new();
        new MessageFields(file, problems).Fill(message, YamlTree.Read(file, text), string.Empty);
        return problems.Count == 0 ? message : throw new BriefException([.. problems.OrderBy(p => p.Line).ThenBy(p => p.Column)]);
    }
}
