using System.Reflection;
using PostPipeline.Slates.Files;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates;

/// <summary>The invented house with six invented productions that shows what a slate is; it travels inside the program.</summary>
public static class DemoSlate
{
    private const string Folder = "demo/slate/";

    /// <summary>The demonstration's slate.</summary>
    public static Slate Read() => SlateReader.Read(Folder + "slate.yaml", Text("slate.yaml"), brief => (Folder + brief, () => Text(brief)));

    private static string Text(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(Folder + name)
            ?? throw new BriefException(Folder + name, "it does not travel inside the program");
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }
}
