using Google.Protobuf;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.TimecodeSamples;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>Words of linear timecode.</summary>
public abstract class LtcWordContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    // Source: tests/Tables/timecode/ltc_codewords.csv, words made by libltc 1.3.2.
    [Fact]
    public async Task EncodeAndDecodeLtcWords_GoBothWays()
    {
        EncodeLtcWordsResponse words = await Clients.Timecode.EncodeLtcWordsAsync(new() { Format = Drop, FrameIndices = { 107_892, 1_799, 1_800 } });
        Assert.Equal("0004000800000100FCBF0906090D00000000FCBF0204000001000000FCBF", Convert.ToHexString(words.Words.Span));
        Assert.Equal(1, words.FramesPerWord);
        byte[] damaged = words.Words.ToByteArray();
        damaged[18] = 0;
        DecodeLtcWordsResponse back = await Clients.Timecode.DecodeLtcWordsAsync(new() { Format = Drop, Words = ByteString.CopyFrom(damaged) });
        Assert.Equal([107_892, -1, 1_800], back.FrameIndices);
        Assert.Contains("synchronising word", Assert.Single(back.Errors).Description);
        Assert.True(back.EvenParities[0]);

        EncodeLtcWordsResponse pairs = await Clients.Timecode.EncodeLtcWordsAsync(
            new() { Format = Format(50, 1), FrameIndices = { 7 }, UserBits = 0x8765_4321, ColourFrame = true, BinaryGroupFlags = 5 });
        DecodeLtcWordsResponse pair = await Clients.Timecode.DecodeLtcWordsAsync(new() { Format = Format(50, 1), Words = pairs.Words });
        Assert.Equal((2, 6, 0x8765_4321, true, 5), (pairs.FramesPerWord, pair.FrameIndices[0], pair.UserBits[0], pair.ColourFrames[0], pair.BinaryGroupFlags[0]));
    }

    [Fact]
    public async Task EncodeLtcWords_Above60OrWrongFlags_IsRefused()
    {
        await Refused(Clients.Timecode.EncodeLtcWordsAsync(new() { Format = Format(72, 1) }), ("format.rate", "goes up to 60"));
        await Refused(
            Clients.Timecode.EncodeLtcWordsAsync(new() { Format = Film, UserBits = -1, BinaryGroupFlags = 8 }), ("user_bits", "is -1"), ("binary_group_flags", "is 8"));
        await Refused(Clients.Timecode.DecodeLtcWordsAsync(new() { Format = Film, Words = ByteString.CopyFrom(new byte[9]) }), ("words", "whole words of 10"));
    }
}

public sealed class EmbeddedLtcWordTests : LtcWordContract<EmbeddedTransport>;

public sealed class NetworkLtcWordTests : LtcWordContract<KestrelTransport>;
