using Google.Protobuf;
using Grpc.Core;
using Microsoft.Extensions.DependencyInjection;
using PostPipeline.Hosting;
using PostPipeline.Hosting.Failures;
using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using PostPipeline.Services.Tests.Probes.V1;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>Does what it is told.</summary>
public sealed class Probe(ProbeLog log, ScopeMark scope) : ProbeService.ProbeServiceBase
{
    public static HostDefinition Host(ProbeLog log) => new(
        "probe",
        0,
        [HostedService.Of<Probe>()],
        (services, _) =>
        {
            services.AddSingleton(log);
            services.AddScoped<ScopeMark>();
        });

    public override async Task<ProbeResponse> Ask(ProbeRequest request, ServerCallContext context)
    {
        log.Start();
        return (await Act(request, context))!;
    }

    public override async Task Watch(ProbeRequest request, IServerStreamWriter<ProbeResponse> responseStream, ServerCallContext context)
    {
        log.Start();
        for (int i = 0; i < request.Number; i++)
        {
            await responseStream.WriteAsync(new() { Number = i, Payload = request.Payload }, context.CancellationToken);
            log.CountWritten();
        }

        if (request.Action is not "echo")
        {
            await Act(new(request) { Number = (int)StatusCode.Aborted }, context);
        }
    }

    public override async Task<ProbeResponse> Collect(IAsyncStreamReader<ProbeRequest> requestStream, ServerCallContext context)
    {
        log.Start();
        int count = 0;
        try
        {
            while (await requestStream.MoveNext(context.CancellationToken))
            {
                count++;
                if (requestStream.Current.Action == "enough")
                {
                    break;
                }

                if (requestStream.Current.Action is not "echo")
                {
                    await Act(requestStream.Current, context);
                }
            }
        }
        catch (Exception failure) when (failure is OperationCanceledException or IOException)
        {
            log.SeeCancelled();
            throw;
        }

        return new() { Number = count };
    }

    public override async Task Converse(IAsyncStreamReader<ProbeRequest> requestStream, IServerStreamWriter<ProbeResponse> responseStream, ServerCallContext context)
    {
        log.Start();
        try
        {
            while (await requestStream.MoveNext(context.CancellationToken))
            {
                if (requestStream.Current.Action == "enough")
                {
                    return;
                }

                ProbeResponse? answer = await Act(requestStream.Current, context);
                await responseStream.WriteAsync(answer!, context.CancellationToken);
            }
        }
        catch (Exception failure) when (failure is OperationCanceledException or IOException)
        {
            log.SeeCancelled();
            throw;
        }

        await responseStream.WriteAsync(new() { Text = "half-closed" }, context.CancellationToken);
    }

    private async Task<ProbeResponse?> Act(ProbeRequest request, ServerCallContext context)
    {
        switch (request.Action)
        {
            case "echo":
                return new() { Text = request.Text, Number = request.Number, Payload = request.Payload };
            case "change":
                request.Text = "changed by the service";
                return new() { Text = request.Text };
            case "scope":
                return new() { Text = scope.Id, Number = log.OpenScopes };
            case "status":
                throw new RpcException(new((StatusCode)request.Number, request.Text), new Metadata { { "probe-trailer", "thrown" } });
            case "set-status":
                context.Status = new((StatusCode)request.Number, request.Text);
                return new();
            case "nothing":
                return null;
            case "violations":
                Violations violations = new();
                violations.InRange(FieldPath.Of("cameras")[2]["frame_rate"]["denominator"], 0, 1, 1001);
                violations.Length("text", string.Empty, 1, 64);
                violations.ThrowIfAny();
                return new();
            case "not-found":
                throw ServiceFailureException.NotFound("model", request.Text);
            case "domain":
                FrameRate.From(24, 0);
                return new();
            case "overflow":
                return new() { Text = DataSize.FromBytes(long.MaxValue).ToString() + DataSize.FromBytes((Int128)long.MaxValue * 2) };
            case "fault":
                throw new InvalidOperationException("a secret of the house");
            case "argument-fault":
                return new() { Text = new List<string>()[request.Number + 1] };
            case "large":
                return new() { Payload = ByteString.CopyFrom(new byte[request.Number]) };
            case "headers":
                await context.WriteResponseHeadersAsync(new Metadata { { "probe-header", request.Text } });
                context.ResponseTrailers.Add("probe-trailer", "answered");
                return new() { Text = context.RequestHeaders.GetValue("probe-request") ?? "none" };
            case "deadline":
                return new() { Text = (context.Deadline - DateTime.UtcNow) < TimeSpan.FromMinutes(2) ? "near" : "far" };
            case "wait":
                using (context.CancellationToken.Register(log.SeeCancelled))
                {
                    await Task.Delay(Timeout.InfiniteTimeSpan, context.CancellationToken);
                }

                return new();
            case "deaf":
                // Never looks at its token, as a library that cannot be stopped.
                await Task.Delay(request.Number, CancellationToken.None);
                return new() { Text = "late" };
            default:
                throw new ArgumentException($"the probe does not know '{request.Action}'");
        }
    }
}
