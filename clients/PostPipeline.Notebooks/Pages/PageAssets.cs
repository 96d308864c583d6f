using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Plotly.NET;

namespace PostPipeline.Notebooks.Pages;

/// <summary>The scripts and styles of every page; all of them are inside our assemblies, so that no page needs a network.</summary>
internal static class PageAssets
{
    private static readonly Lazy<string> plotly = new(() => Read(typeof(GenericChart).Assembly, name => name.EndsWith(".min.js", StringComparison.Ordinal)));

    /// <summary>plotly.js; wrapped, because a page may carry a module loader that would otherwise swallow it.</summary>
    public static string PlotlyWrapped => "(function(){var define,module,exports;" + plotly.Value.Replace("</script", "<\\/script", StringComparison.OrdinalIgnoreCase) + "\n}).call(window);";

    /// <summary>The licence of plotly.js.</summary>
    public static string PlotlyLicence { get; } = Read(typeof(GenericChart).Assembly, name => name.EndsWith("LICENSE.txt", StringComparison.Ordinal));

    /// <summary>The version of plotly.js, from the name of the resource.</summary>
    public static string PlotlyVersion { get; } = typeof(GenericChart).Assembly.GetManifestResourceNames()
        .First(name => name.EndsWith(".min.js", StringComparison.Ordinal)).Replace("Plotly.NET.plotly-", string.Empty, StringComparison.Ordinal).Replace(".min.js", string.Empty, StringComparison.Ordinal);

    /// <summary>A file of the folder Pages/Assets.</summary>
    public static string Own(string name) => Read(typeof(PageAssets).Assembly, found => found == name);

    /// <summary>The hash by which a page's content security policy allows one inline script.</summary>
    public static string Hash(string script) => "'sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(script))) + "'";

    private static string Read(Assembly assembly, Func<string, bool> match)
    {
        string name = assembly.GetManifestResourceNames().First(match);
        using StreamReader reader = new(assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd();
    }
}
