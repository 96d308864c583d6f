using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Pages;

namespace PostPipeline.Notebooks.Runs;

/// <summary>The versions that stand at the end of a report.</summary>
internal static class Versions
{
    public static IReadOnlyList<(string Part, string Version)> Of(NotebookFile notebook) =>
    [
        ("PostPipeline", Clean(typeof(Versions).Assembly)),
        (".NET", Environment.Version.ToString()),
        ("Microsoft.DotNet.Interactive", Clean(typeof(Microsoft.DotNet.Interactive.Kernel).Assembly)),
        ("Plotly.NET", Clean(typeof(Plotly.NET.GenericChart).Assembly)),
        ("plotly.js", PageAssets.PlotlyVersion),
        ("Digest of the notebook (SHA-256, first 16 digits)", Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\u0001', notebook.Cells.Select(c => c.Kind + c.Source)))))[..16]),
    ];

    private static string Clean(Assembly assembly) =>
        (assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? assembly.GetName().Version?.ToString() ?? "unknown").Split('+')[0];
}
