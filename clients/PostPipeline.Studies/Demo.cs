using System.Reflection;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies;

/// <summary>The invented production that shows what the program does; it travels inside the program.</summary>
public static class Demo
{
    private const string Resource = "demo/brief.yaml";

    /// <summary>The demonstration's brief, as text.</summary>
    public static string BriefText()
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException($"The program was built without {Resource}.");
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }

    /// <summary>The demonstration's brief.</summary>
    public static Brief Brief() => BriefReader.Read(Resource, BriefText());
}
