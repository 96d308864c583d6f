using Google.Protobuf;
using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>Copies and weighs messages as they cross.</summary>
internal static class Messages
{
    // The texts are those of the network transport, so that callers see no difference.
    public static RpcException TooLargeToReceive => new(new(StatusCode.ResourceExhausted, "Received message exceeds the maximum configured message size."));

    public static RpcException TooLargeToSend => new(new(StatusCode.ResourceExhausted, "Sending message exceeds the maximum configured message size."));

    public static bool Fits<T>(T message, int maximumBytes) => message is not IMessage sized || sized.CalculateSize() <= maximumBytes;

    public static T Copy<T>(T message, Marshaller<T> marshaller, MessageCopy how)
        where T : class =>
        how == MessageCopy.Clone && message is IDeepCloneable<T> cloneable ? cloneable.Clone() : ThroughBytes.Copy(message, marshaller);
}
