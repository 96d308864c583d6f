using System.Text.Json;
using System.Text.Json.Nodes;

namespace PostPipeline.Notebooks.Jupyter;

/// <summary>Where a front end waits for its kernel, as the file says that it hands over (Jupyter messaging protocol 5.3, "Connection files").</summary>
/// <param name="Address">The loopback address.</param>
/// <param name="Shell">Port of requests.</param>
/// <param name="Control">Port of interrupt and shutdown.</param>
/// <param name="Output">Port of published outputs.</param>
/// <param name="Input">Port of questions to the person; unused.</param>
/// <param name="Heartbeat">Port of signs of life.</param>
/// <param name="Key">The key of signatures; empty for none.</param>
public sealed record ConnectionFile(string Address, int Shell, int Control, int Output, int Input, int Heartbeat, string Key)
{
    /// <summary>Reads a connection file.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InvalidDataException">It is not one, or asks for something other than TCP on loopback with HMAC-SHA256.</exception>
    public static ConnectionFile Read(string path)
    {
        try
        {
            JsonNode json = JsonNode.Parse(File.ReadAllText(path))!;
            string address = json["ip"]!.GetValue<string>();
            bool known = json["transport"]!.GetValue<string>() == "tcp" && json["signature_scheme"]!.GetValue<string>() == "hmac-sha256";
            if (!known || !(address is "127.0.0.1" or "localhost" or "::1"))
            {
                throw new InvalidDataException($"{path}: allowed is tcp on a loopback address with hmac-sha256");
            }

            return new(
                address == "localhost" ? "127.0.0.1" : address,
                json["shell_port"]!.GetValue<int>(),
                json["control_port"]!.GetValue<int>(),
                json["iopub_port"]!.GetValue<int>(),
                json["stdin_port"]!.GetValue<int>(),
                json["hb_port"]!.GetValue<int>(),
                json["key"]!.GetValue<string>());
        }
        catch (Exception problem) when (problem is JsonException or NullReferenceException or InvalidOperationException)
        {
            throw new InvalidDataException($"{path} is not a connection file", problem);
        }
    }
}
