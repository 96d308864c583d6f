using System.Collections;
using Google.Protobuf;
using Google.Protobuf.Reflection;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>Makes messages with small seeded values in all their fields; many are nonsense, which services must refuse in order.</summary>
internal sealed class MessageFactory(RandomStream random)
{
    private const int DeepestNesting = 5;

    private static readonly string[] Words = ["", "A", "online", "card", "=1+1", "A001", "10:00:00:00", "Ü"];

    public IMessage Make(MessageDescriptor descriptor, int depth = 0)
    {
        IMessage message = descriptor.Parser.ParseFrom(ByteString.Empty);
        foreach (FieldDescriptor field in descriptor.Fields.InDeclarationOrder())
        {
            // One field in eight stays unset; the last one set of a oneof stands.
            if (Pick(8) == 0 || depth > DeepestNesting)
            {
                continue;
            }

            if (field.IsMap)
            {
                IDictionary map = (IDictionary)field.Accessor.GetValue(message);
                map[Value(field.MessageType.FindFieldByNumber(1), depth)] = Value(field.MessageType.FindFieldByNumber(2), depth);
            }
            else if (field.IsRepeated)
            {
                IList list = (IList)field.Accessor.GetValue(message);
                for (int i = Pick(4); i > 0; i--)
                {
                    list.Add(Value(field, depth));
                }
            }
            else
            {
                field.Accessor.SetValue(message, Value(field, depth));
            }
        }

        return message;
    }

    private int Pick(int choices) => random.NextBelow(choices);

    private object Value(FieldDescriptor field, int depth) => field.FieldType switch
    {
        FieldType.Message => Make(field.MessageType, depth + 1),
        FieldType.Enum => Enum.ToObject(field.EnumType.ClrType, Pick(field.EnumType.Values.Count)),
        FieldType.String => Words[Pick(Words.Length)],
        FieldType.Bytes => ByteString.CopyFromUtf8("10:00:00:00"[..Pick(12)]),
        FieldType.Bool => Pick(2) == 1,
        FieldType.Double => Pick(6) == 0 ? double.NaN : Pick(200) / 2.0 - 5,
        FieldType.Float => Pick(100) / 2f,
        FieldType.Int32 or FieldType.SFixed32 => Pick(6) == 0 ? -1 : Pick(30),
        FieldType.Int64 or FieldType.SFixed64 => Pick(12) == 0 ? long.MaxValue : Pick(12) == 1 ? long.MinValue : (long)Pick(2_000),
        _ => throw new InvalidOperationException($"No values for {field.FieldType}."),
    };
}
