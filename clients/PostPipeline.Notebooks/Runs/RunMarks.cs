using System.Security.Cryptography;
using System.Text;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Notebooks.Runs;

/// <summary>What stands at the end of a report beside the inputs: the seed, and a digest that changes with any input.</summary>
internal static class RunMarks
{
    /// <summary>The marks of a run so far.</summary>
    public static IReadOnlyList<(string Name, string Value)> Of(ParameterSet parameters)
    {
        string seed = parameters.Notes.GetValueOrDefault("Seed")
            ?? parameters.Declared.FirstOrDefault(d => d.Name == "seed")?.Value
            ?? "none; nothing here is drawn at random by the notebook";
        return
        [
            ("Seed", seed),
            .. parameters.Notes.Where(n => n.Key != "Seed").Select(n => (n.Key, n.Value)),
            ("Digest of the inputs (SHA-256, first 16 digits)", Digest(parameters)),
        ];
    }

    // A file counts by what is in it, not by its name.
    private static string Digest(ParameterSet parameters)
    {
        StringBuilder text = new();
        foreach (ParameterDeclaration d in parameters.Declared)
        {
            string value = d.Kind == ParameterKind.File && File.Exists(d.Value) ? Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(d.Value))) : d.Value;
            text.Append(d.Name).Append('=').Append(value).Append('\n');
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())))[..16];
    }
}
