using System.Reflection;

namespace PostPipeline.Notebooks.Engines;

/// <summary>What the cells of a notebook can use without asking for it.</summary>
/// <param name="References">Assemblies beyond the framework.</param>
/// <param name="Usings">Namespaces, or "static Type".</param>
public sealed record CellSetup(IReadOnlyList<Assembly> References, IReadOnlyList<string> Usings)
{
    /// <summary>The framework, the charts and the parameters.</summary>
    public static CellSetup Basic { get; } = new(
        [typeof(CellSetup).Assembly],
        [
            "System", "System.Collections.Generic", "System.IO", "System.Linq", "System.Threading", "System.Threading.Tasks",
            "PostPipeline.Notebooks", "PostPipeline.Notebooks.Charts", "PostPipeline.Notebooks.Rendering", "static PostPipeline.Notebooks.Output",
        ]);

    /// <summary>The same with more.</summary>
    /// <param name="references">More assemblies.</param>
    /// <param name="usings">More namespaces.</param>
    public CellSetup With(IEnumerable<Assembly> references, IEnumerable<string> usings) => new([.. References, .. references], [.. Usings, .. usings]);

    /// <summary>The using directives as code.</summary>
    internal string UsingCode => string.Join("\n", Usings.Select(name => $"using {name};"));
}
