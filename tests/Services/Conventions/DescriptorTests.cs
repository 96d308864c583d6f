using System.Text;
using Google.Protobuf.Reflection;
using PostPipeline.Contracts;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Services.Tests.Conventions;

/// <summary>
/// Guards the contract: what the protos say is compared with approved text, one file a proto, so that no field is
/// renumbered, renamed or removed unnoticed.
/// </summary>
public sealed class DescriptorTests
{
    private const string AcceptVariable = "POSTPIPELINE_ACCEPT";

    private static readonly string Approved = Path.Combine(Outside.TestsFolder, "Services", "Conventions", "Contract");

    private static readonly Dictionary<string, FileDescriptor> Files = typeof(Wire).Assembly.GetTypes()
        .Where(type => type.Name.EndsWith("Reflection", StringComparison.Ordinal))
        .Select(type => (FileDescriptor)type.GetProperty("Descriptor")!.GetValue(null)!)
        .ToDictionary(file => file.Name);

    public static TheoryData<string> Protos => [.. Files.Keys.Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Protos))]
    public void Proto_MatchesTheApprovedContract(string proto)
    {
        string path = Path.Combine(Approved, proto.Replace('/', '.') + ".txt");
        string actual = Describe(Files[proto]);
        if (Environment.GetEnvironmentVariable(AcceptVariable) == "1")
        {
            File.WriteAllText(path, actual);
        }

        string[] was = File.Exists(path) ? File.ReadAllLines(path) : [];
        string[] now = actual.TrimEnd('\n').Split('\n');
        string[] gone = [.. was.Except(now)];
        string[] fresh = [.. now.Except(was)];
        Assert.True(
            was.SequenceEqual(now),
            $"{proto} differs from its approved contract.\n{string.Concat(gone.Select(l => $"  - {l}\n"))}{string.Concat(fresh.Select(l => $"  + {l}\n"))}"
            + "A line with - breaks callers. Where the change is meant, accept it with\n"
            + $"  {AcceptVariable}=1 dotnet test tests/Services -c Release --filter FullyQualifiedName~Descriptor\nand commit the changed file in tests/Services/Conventions/Contract.");
    }

    [Fact]
    public void ApprovedContract_HasNoFileWithoutAProto()
    {
        IEnumerable<string> approved = Directory.EnumerateFiles(Approved, "*.txt").Select(path => Path.GetFileNameWithoutExtension(path));
        Assert.Equal(Files.Keys.Select(proto => proto.Replace('/', '.')).Order(StringComparer.Ordinal), approved.Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Protos))]
    public void Enums_BeginWithUnspecifiedAndCarryTheirPrefix(string proto)
    {
        foreach (EnumDescriptor type in Files[proto].EnumTypes)
        {
            string prefix = string.Concat(type.Name.Select((c, i) => char.IsUpper(c) && i > 0 ? $"_{c}" : $"{char.ToUpperInvariant(c)}"));
            Assert.Equal($"{prefix}_UNSPECIFIED", type.FindValueByNumber(0)?.Name);
            Assert.All(type.Values, value => Assert.StartsWith($"{prefix}_", value.Name, StringComparison.Ordinal));
            Assert.All(type.Values, value => Assert.False(char.IsAsciiDigit(value.Name[prefix.Length + 1]), $"{value.Name} would start with a digit in code"));
        }
    }

    [Theory]
    [MemberData(nameof(Protos))]
    public void Methods_HaveARequestAndAResponseOfTheirOwn(string proto)
    {
        foreach (MethodDescriptor method in Files[proto].Services.SelectMany(service => service.Methods))
        {
            Assert.Equal($"{method.Name}Request", method.InputType.Name);
            Assert.Equal($"{method.Name}Response", method.OutputType.Name);
        }
    }

    [Theory]
    [MemberData(nameof(Protos))]
    public void Fields_AreNeverUnsigned(string proto) =>
        Assert.Empty(Files[proto].MessageTypes.SelectMany(message => message.Fields.InDeclarationOrder())
            .Where(field => field.FieldType is FieldType.UInt32 or FieldType.UInt64 or FieldType.Fixed32 or FieldType.Fixed64)
            .Select(field => field.FullName));

    private static string Describe(FileDescriptor file)
    {
        StringBuilder text = new();
        text.Append("package ").Append(file.Package).Append('\n');
        foreach (ServiceDescriptor service in file.Services.OrderBy(s => s.Name, StringComparer.Ordinal))
        {
            foreach (MethodDescriptor method in service.Methods.OrderBy(m => m.Name, StringComparer.Ordinal))
            {
                text.Append($"rpc {service.Name}.{method.Name}({Stream(method.IsClientStreaming)}{method.InputType.FullName}) returns ({Stream(method.IsServerStreaming)}{method.OutputType.FullName})\n");
            }
        }

        foreach (EnumDescriptor type in file.EnumTypes.OrderBy(e => e.Name, StringComparer.Ordinal))
        {
            foreach (EnumValueDescriptor value in type.Values.OrderBy(v => v.Number))
            {
                text.Append($"enum {type.Name}.{value.Name} = {value.Number}\n");
            }
        }

        foreach (MessageDescriptor message in file.MessageTypes.OrderBy(m => m.Name, StringComparer.Ordinal))
        {
            Describe(text, message, message.Name);
        }

        return text.ToString();
    }

    private static void Describe(StringBuilder text, MessageDescriptor message, string name)
    {
        text.Append($"message {name}\n");
        foreach (FieldDescriptor field in message.Fields.InFieldNumberOrder())
        {
            string label = field.IsMap ? "map " : field.IsRepeated ? "repeated " : field.HasPresence && field.FieldType is not FieldType.Message && field.RealContainingOneof is null ? "optional " : string.Empty;
            string oneof = field.RealContainingOneof is { } choice ? $" oneof {choice.Name}" : string.Empty;
            string type = field.FieldType switch
            {
                FieldType.Message => field.MessageType.FullName,
                FieldType.Enum => field.EnumType.FullName,
                _ => field.FieldType.ToString().ToLowerInvariant(),
            };
            text.Append($"field {name}.{field.Name} = {field.FieldNumber} {label}{type}{oneof}\n");
        }

        foreach (MessageDescriptor nested in message.NestedTypes.OrderBy(m => m.Name, StringComparer.Ordinal))
        {
            Describe(text, nested, $"{name}.{nested.Name}");
        }
    }

    private static string Stream(bool streams) => streams ? "stream " : string.Empty;
}
