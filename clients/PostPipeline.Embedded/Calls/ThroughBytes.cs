using System.Buffers;
using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>Copies a message by writing and reading its bytes, as the network would.</summary>
internal static class ThroughBytes
{
    public static T Copy<T>(T message, Marshaller<T> marshaller)
        where T : class
    {
        Writing writing = new();
        marshaller.ContextualSerializer(message, writing);
        return marshaller.ContextualDeserializer(new Reading(writing.Bytes));
    }

    private sealed class Writing : SerializationContext
    {
        private readonly ArrayBufferWriter<byte> buffer = new();
        private byte[]? whole;

        public ReadOnlyMemory<byte> Bytes => whole ?? buffer.WrittenMemory;

        public override void Complete(byte[] payload) => whole = payload;

        public override IBufferWriter<byte> GetBufferWriter() => buffer;

        public override void SetPayloadLength(int payloadLength)
        {
        }

        public override void Complete()
        {
        }
    }

    private sealed class Reading(ReadOnlyMemory<byte> bytes) : DeserializationContext
    {
        public override int PayloadLength => bytes.Length;

        public override byte[] PayloadAsNewBuffer() => bytes.ToArray();

        public override ReadOnlySequence<byte> PayloadAsReadOnlySequence() => new(bytes);
    }
}
