namespace PostPipeline.Studies.Tests.Briefs;

/// <summary>Small briefs for tests; invented.</summary>
internal static class BriefSamples
{
    /// <summary>The eight answers that make a brief valid, and nothing else.</summary>
    public const string EightAnswers = """
        brief: 1
        production: documentary
        shoot:
          days: 25
          cameras: 3
          hours_per_day: 2.5 h
        edit:
          finished: 110 min
          lock: 2027-03-01
        deliver:
          due: 2027-05-03
          raster: 3840x2160
        """;

    public static string With(string path, string from, string to) => path.Replace(from, to, StringComparison.Ordinal);
}
