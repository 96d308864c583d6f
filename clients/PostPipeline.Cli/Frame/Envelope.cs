using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace PostPipeline.Cli.Frame;

/// <summary>
/// The JSON that a verb prints: <c>{schema, result, run}</c>. The <c>result</c> of the same question with the same seed
/// is the same bytes, whether services run embedded or apart; all that may differ stands under <c>run</c>.
/// </summary>
internal static class Envelope
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower) },
    };

    public static string Write<T>(string schema, T result, RunFacts run) =>
        JsonSerializer.Serialize(new Sheet<T>(schema, result, run), Options);

    private sealed record Sheet<T>(string Schema, T Result, RunFacts Run);
}
