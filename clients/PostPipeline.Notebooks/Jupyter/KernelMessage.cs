using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using NetMQ;

namespace PostPipeline.Notebooks.Jupyter;

/// <summary>One message of the Jupyter messaging protocol 5.3 on the wire: identities, a delimiter, a signature, and four parts of JSON.</summary>
/// <param name="Identities">Whom it is for.</param>
/// <param name="Header">What it is.</param>
/// <param name="Parent">The header of what it answers.</param>
/// <param name="Content">Its content.</param>
internal sealed record KernelMessage(IReadOnlyList<byte[]> Identities, JsonObject Header, JsonObject Parent, JsonObject Content)
{
    private const string Delimiter = "<IDS|MSG>";

    public string Type => Header["msg_type"]!.GetValue<string>();

    /// <summary>An answer to this message, or something published because of it.</summary>
    public KernelMessage Answer(string type, JsonObject content) => new(
        Identities,
        new()
        {
            ["msg_id"] = Guid.NewGuid().ToString("N"),
            ["session"] = Header["session"]?.GetValue<string>() ?? string.Empty,
            ["username"] = "kernel",
            ["date"] = TimeProvider.System.GetUtcNow().ToString("o", CultureInfo.InvariantCulture),
            ["msg_type"] = type,
            ["version"] = "5.3",
        },
        (JsonObject)Header.DeepClone(),
        content);

    /// <summary>Reads a message; null where the signature does not fit or the frames are not a message.</summary>
    public static KernelMessage? Read(NetMQMessage frames, string key)
    {
        int at = frames.ToList().FindIndex(frame => frame.ConvertToString() == Delimiter);
        if (at < 0 || frames.FrameCount < at + 6)
        {
            return null;
        }

        byte[][] parts = [.. Enumerable.Range(at + 2, 4).Select(i => frames[i].ToByteArray())];
        if (key.Length > 0 && !CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(Sign(parts, key)), frames[at + 1].ToByteArray()))
        {
            return null;
        }

        return new([.. Enumerable.Range(0, at).Select(i => frames[i].ToByteArray())], Part(parts[0]), Part(parts[1]), Part(parts[3]));
    }

    /// <summary>Writes a message.</summary>
    /// <param name="key">The key of signatures.</param>
    /// <param name="topic">For a published message, the topic in place of identities.</param>
    public NetMQMessage Write(string key, string? topic = null)
    {
        byte[][] parts = [Bytes(Header), Bytes(Parent), "{}"u8.ToArray(), Bytes(Content)];
        NetMQMessage frames = new();
        if (topic is not null)
        {
            frames.Append(topic);
        }
        else
        {
            foreach (byte[] identity in Identities)
            {
                frames.Append(identity);
            }
        }

        frames.Append(Delimiter);
        frames.Append(key.Length > 0 ? Sign(parts, key) : string.Empty);
        foreach (byte[] part in parts)
        {
            frames.Append(part);
        }

        return frames;
    }

    private static string Sign(byte[][] parts, string key)
    {
        using IncrementalHash hash = IncrementalHash.CreateHMAC(HashAlgorithmName.SHA256, Encoding.UTF8.GetBytes(key));
        foreach (byte[] part in parts)
        {
            hash.AppendData(part);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static JsonObject Part(byte[] json) => JsonNode.Parse(json) as JsonObject ?? [];

    private static byte[] Bytes(JsonObject json) => Encoding.UTF8.GetBytes(json.ToJsonString());
}
