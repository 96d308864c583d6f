using System.Text;
using Google.Protobuf;
using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Contracts.Types.V1;
using Xunit;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>Parts of messages that several tests of the timecode host send, and how a refusal is checked.</summary>
internal static class TimecodeSamples
{
    public static LabelFormat Film { get; } = Format(24, 1);

    public static LabelFormat Drop { get; } = Format(30000, 1001, drop: true);

    public static LabelFormat Format(long numerator, long denominator, bool drop = false) => new() { Rate = Rate(numerator, denominator), DropFrame = drop };

    public static FrameRate Rate(long numerator, long denominator) => new() { Numerator = numerator, Denominator = denominator };

    public static Rational Fraction(long numerator, long denominator) => new() { Numerator = numerator, Denominator = denominator };

    public static ByteString Rows(int width, params string[] labels) =>
        ByteString.CopyFrom(Encoding.ASCII.GetBytes(string.Concat(labels.Select(label => label.PadRight(width)))));

    public static async Task Refused<T>(AsyncUnaryCall<T> call, params (string Field, string Problem)[] expected)
    {
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await call);
        Assert.Equal(StatusCode.InvalidArgument, refused.StatusCode);
        Assert.Equal(expected.Select(e => e.Field), refused.Violations.Select(v => v.Field));
        Assert.All(expected.Zip(refused.Violations), pair => Assert.Contains(pair.First.Problem, pair.Second.Problem));
    }
}
