using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using System.Xml.Linq;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Services.Tests.Conventions;

/// <summary>
/// Which project may know which. The domain knows neither gRPC nor files nor machine learning; servers do not know
/// each other; clients know no server, but for the embedded suite, which hosts them.
/// </summary>
public sealed class ArrowTests
{
    private const string Clients = "Client Contracts Quantities";
    private const string Service = "Hosting Contracts Flows Quantities";

    private static readonly Dictionary<string, string> Allowed = new()
    {
        ["Quantities"] = "",
        ["Flows"] = "Quantities",
        ["Timecodes"] = "Flows Quantities",
        ["Footage"] = "Flows Quantities",
        ["Farms"] = "Flows Quantities",
        ["RenderTimes"] = "Flows Quantities",
        ["Contracts"] = "",
        ["Hosting"] = "Contracts Quantities",
        ["Timecodes.Service"] = Service + " Timecodes",
        ["Footage.Service"] = Service + " Footage",
        ["Rendering.Service"] = Service + " Farms RenderTimes",
        ["Client"] = "Contracts Quantities",
        ["Studies"] = Clients + " Flows",
        ["Slates"] = Clients + " Flows Studies",
        ["Embedded"] = Clients + " Hosting Timecodes.Service Footage.Service Rendering.Service",
        ["Notebooks"] = Clients + " Flows Studies Slates",
        ["Cli"] = Clients + " Flows Studies Slates Notebooks Embedded",
    };

    private static readonly Dictionary<string, string[]> OnlyIn = new()
    {
        ["Microsoft.ML"] = ["RenderTimes"],
        ["Microsoft.ML.FastTree"] = ["RenderTimes"],
        ["Google.OrTools"] = ["Slates"],
        ["NetMQ"] = ["Notebooks"],
        ["Plotly.NET.CSharp"] = ["Notebooks"],
        ["Microsoft.DotNet.Interactive.CSharp"] = ["Notebooks"],
        ["Grpc.AspNetCore"] = ["Hosting"],
        ["Spectre.Console"] = ["Cli"],
        ["System.CommandLine"] = ["Cli"],
    };

    public static TheoryData<string> Projects => [.. Allowed.Keys];

    [Theory]
    [MemberData(nameof(Projects))]
    public void ProjectFile_References_StayWithinTheArrows(string project)
    {
        IEnumerable<string> references = Elements(project, "ProjectReference").Select(path => Short(Path.GetFileNameWithoutExtension(path.Replace('\\', '/'))));
        Assert.Empty(references.Except(Allowed[project].Split(' ')));
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void Assembly_References_StayWithinTheArrows(string project)
    {
        string file = Path.Combine(AppContext.BaseDirectory, project == "Cli" ? "postpipeline.dll" : $"PostPipeline.{project}.dll");
        using PEReader image = new(File.OpenRead(file));
        MetadataReader metadata = image.GetMetadataReader();
        IEnumerable<string> references = metadata.AssemblyReferences
            .Select(handle => metadata.GetString(metadata.GetAssemblyReference(handle).Name))
            .Where(name => name.StartsWith("PostPipeline.", StringComparison.Ordinal))
            .Select(Short);
        Assert.Empty(references.Except(Allowed[project].Split(' ')));
    }

    [Theory]
    [InlineData("Quantities")]
    [InlineData("Flows")]
    [InlineData("Timecodes")]
    [InlineData("Footage")]
    [InlineData("Farms")]
    public void PureDomain_HasNoPackages(string project) => Assert.Empty(Elements(project, "PackageReference"));

    [Fact]
    public void HeavyPackages_StayWhereTheyBelong()
    {
        foreach ((string package, string[] homes) in OnlyIn)
        {
            string[] users = [.. Allowed.Keys.Where(project => Elements(project, "PackageReference").Contains(package))];
            Assert.Empty(users.Except(homes));
        }
    }

    [Fact]
    public void EveryProject_IsInTheTable()
    {
        IEnumerable<string> projects = new[] { "services", "clients", "protos" }
            .SelectMany(folder => Directory.EnumerateFiles(Path.Combine(Outside.Root, folder), "*.csproj", SearchOption.AllDirectories))
            .Select(path => Short(Path.GetFileNameWithoutExtension(path)));
        Assert.Equal(Allowed.Keys.Order(), projects.Order());
    }

    // Published together, two settings files would collide, and a settings file could open an address.
    [Fact]
    public void Hosts_CarryNoSettingsFiles() =>
        Assert.Empty(Directory.EnumerateFiles(Path.Combine(Outside.Root, "services"), "appsettings*.json", SearchOption.AllDirectories));

    [Theory]
    [InlineData("Timecodes.Service")]
    [InlineData("Footage.Service")]
    [InlineData("Rendering.Service")]
    public void HostProgram_IsShort(string project) =>
        Assert.InRange(File.ReadAllLines(Path.Combine(Path.GetDirectoryName(ProjectFile(project))!, "Program.cs")).Length, 1, 25);

    private static string Short(string name) => name.StartsWith("PostPipeline.", StringComparison.Ordinal) ? name["PostPipeline.".Length..] : name;

    private static string ProjectFile(string project) =>
        new[] { "services", "clients" }
            .Select(folder => Path.Combine(Outside.Root, folder, $"PostPipeline.{project}", $"PostPipeline.{project}.csproj"))
            .Append(Path.Combine(Outside.Root, "protos", $"PostPipeline.{project}.csproj"))
            .Single(File.Exists);

    private static List<string> Elements(string project, string element) =>
        [.. XDocument.Load(ProjectFile(project)).Descendants(element).Select(reference => (string)reference.Attribute("Include")!)];
}
