using System.Buffers;
using System.Reflection;
using System.Text;
using Google.Protobuf;
using Google.Protobuf.Reflection;
using Google.Rpc;
using Grpc.Core;
using PostPipeline.Contracts;
using PostPipeline.Quantities.Randomness;
using Xunit;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>
/// Every method of every service answers the same bytes, or refuses with the same status and details, embedded
/// (messages cloned), embedded (messages through bytes) and over the network. And none, given nonsense, answers that
/// it failed by a fault of its own. A method that is added is covered without a line here.
/// </summary>
public sealed class SameBytesTests(SuiteTransports suite) : IClassFixture<SuiteTransports>
{
    private static readonly int Requests = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 500 : 12;

    public static TheoryData<string> Methods =>
        [.. AllMethods().Select(method => $"{method.Service.FullName}/{method.Name}").Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Methods))]
    public async Task Method_SeededRequests_SameAnswerOverEveryTransportAndNoFault(string name)
    {
        MethodDescriptor method = AllMethods().Single(m => $"{m.Service.FullName}/{m.Name}" == name);
        RandomStream random = new(20_260_301, RandomPurpose.General);
        MessageFactory factory = new(random);
        for (int i = 0; i < Requests; i++)
        {
            // The first is empty: nothing is set, which must be refused or answered, never a fault.
            IMessage[] requests = i == 0
                ? [method.InputType.Parser.ParseFrom(ByteString.Empty)]
                : [.. Enumerable.Range(0, method.IsClientStreaming ? 3 : 1).Select(_ => factory.Make(method.InputType))];
            string[] answers = new string[suite.All.Count];
            for (int t = 0; t < answers.Length; t++)
            {
                answers[t] = await AskAsync(suite.All[t].Invoker, method, requests);
            }

            string shown = $"request {i} of {name}: {string.Join(" then ", requests.Select(r => r.ToString()))}";
            Assert.True(answers.All(answer => answer == answers[0]), $"{shown}\n{string.Join("\n", answers)}");
            Assert.False(
                answers[0].StartsWith("Internal", StringComparison.Ordinal) || answers[0].StartsWith("Unknown", StringComparison.Ordinal)
                || answers[0].StartsWith("DeadlineExceeded", StringComparison.Ordinal),
                $"{shown}\n{answers[0]}");
        }
    }

    private static IEnumerable<MethodDescriptor> AllMethods() =>
        typeof(Wire).Assembly.GetTypes()
            .Where(type => type.Name.EndsWith("Reflection", StringComparison.Ordinal))
            .Select(type => (FileDescriptor)type.GetProperty("Descriptor")!.GetValue(null)!)
            .SelectMany(file => file.Services)
            .SelectMany(service => service.Methods);

    private static Task<string> AskAsync(CallInvoker invoker, MethodDescriptor method, IMessage[] requests) =>
        (Task<string>)typeof(SameBytesTests).GetMethod(nameof(AskTypedAsync), BindingFlags.NonPublic | BindingFlags.Static)!
            .MakeGenericMethod(method.InputType.ClrType, method.OutputType.ClrType)
            .Invoke(null, [invoker, method, requests])!;

    // Bytes of the answers in base 64, or status, detail and fields of the refusal.
    private static async Task<string> AskTypedAsync<TRequest, TResponse>(CallInvoker invoker, MethodDescriptor method, IMessage[] requests)
        where TRequest : class, IMessage<TRequest>
        where TResponse : class, IMessage<TResponse>
    {
        MethodType type = (method.IsClientStreaming, method.IsServerStreaming) switch
        {
            (false, false) => MethodType.Unary,
            (false, true) => MethodType.ServerStreaming,
            (true, false) => MethodType.ClientStreaming,
            _ => MethodType.DuplexStreaming,
        };
        Method<TRequest, TResponse> target = new(type, method.Service.FullName, method.Name, MarshallerOf<TRequest>(method.InputType), MarshallerOf<TResponse>(method.OutputType));
        CallOptions options = new(new Metadata { { Wire.CorrelationHeader, "same" } }, DateTime.UtcNow.AddSeconds(60));
        try
        {
            switch (type)
            {
                case MethodType.Unary:
                    return Text(await invoker.AsyncUnaryCall(target, null, options, (TRequest)requests[0]).ResponseAsync);
                case MethodType.ServerStreaming:
                    using (AsyncServerStreamingCall<TResponse> call = invoker.AsyncServerStreamingCall(target, null, options, (TRequest)requests[0]))
                    {
                        return await TextAsync(call.ResponseStream);
                    }

                case MethodType.ClientStreaming:
                    using (AsyncClientStreamingCall<TRequest, TResponse> call = invoker.AsyncClientStreamingCall(target, null, options))
                    {
                        await WriteAsync(call.RequestStream, requests);
                        return Text(await call.ResponseAsync);
                    }

                default:
                    using (AsyncDuplexStreamingCall<TRequest, TResponse> call = invoker.AsyncDuplexStreamingCall(target, null, options))
                    {
                        await WriteAsync(call.RequestStream, requests);
                        return await TextAsync(call.ResponseStream);
                    }
            }
        }
        catch (RpcException refused)
        {
            IEnumerable<string> fields = refused.GetRpcStatus()?.GetDetail<BadRequest>()?.FieldViolations.Select(v => $"{v.Field} {v.Description}") ?? [];
            return $"{refused.StatusCode} {refused.Status.Detail} [{string.Join("; ", fields)}]";
        }
    }

    // A service may refuse before everything is written; the response tells then.
    private static async Task WriteAsync<T>(IClientStreamWriter<T> stream, IMessage[] requests)
    {
        try
        {
            foreach (IMessage request in requests)
            {
                await stream.WriteAsync((T)request);
            }

            await stream.CompleteAsync();
        }
        catch (RpcException)
        {
        }
    }

    private static async Task<string> TextAsync<T>(IAsyncStreamReader<T> stream)
        where T : class, IMessage<T>
    {
        StringBuilder text = new();
        while (await stream.MoveNext(CancellationToken.None))
        {
            // How often a service says how far it is depends on the clock, not on the question.
            if (stream.Current.Descriptor.FindFieldByName("progress") is not { } progress || !progress.Accessor.HasValue(stream.Current))
            {
                text.Append(Text(stream.Current)).Append('\n');
            }
        }

        return text.ToString();
    }

    private static string Text(IMessage message) => message.ToByteString().ToBase64();

    private static Marshaller<T> MarshallerOf<T>(MessageDescriptor descriptor)
        where T : class, IMessage<T> =>
        Marshallers.Create<T>(
            (message, context) =>
            {
                context.SetPayloadLength(message.CalculateSize());
                message.WriteTo(context.GetBufferWriter());
                context.Complete();
            },
            context => (T)descriptor.Parser.ParseFrom(context.PayloadAsReadOnlySequence().ToArray()));
}
