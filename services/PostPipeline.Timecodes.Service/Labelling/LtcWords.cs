using Google.Protobuf;
using PostPipeline.Hosting.Validation;
using PostPipeline.Timecodes.LinearTimecode;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>Packed linear-timecode words to frame indexes and back.</summary>
internal static class LtcWords
{
    /// <summary>Words of frame indexes.</summary>
    /// <exception cref="InvalidRequestException">The request is wrong.</exception>
    public static Wire.EncodeLtcWordsResponse Encode(Wire.EncodeLtcWordsRequest request)
    {
        Violations violations = new();
        LtcFormat? format = Format(new LabelReader(violations), violations, request.Format);
        violations.Count("frame_indices", request.FrameIndices.Count, 0, LabelReader.MostItems);
        violations.InRange("user_bits", request.UserBits, 0, uint.MaxValue);
        violations.InRange("binary_group_flags", request.BinaryGroupFlags, 0, 7);
        violations.ThrowIfAny();

        byte[] words = new byte[request.FrameIndices.Count * LtcWord.ByteCount];
        for (int i = 0; i < request.FrameIndices.Count; i++)
        {
            Timecode label = Timecode.FromFrames(request.FrameIndices[i], format!.Frames);
            LtcWord.FromLabel(label, format, (uint)request.UserBits, request.ColourFrame, request.BinaryGroupFlags)
                .Write(words.AsSpan(i * LtcWord.ByteCount));
        }

        return new() { Words = UnsafeByteOperations.UnsafeWrap(words), FramesPerWord = format!.FramesPerWord };
    }

    /// <summary>Frame indexes of words.</summary>
    /// <exception cref="InvalidRequestException">The request is wrong; wrong words are answered one by one.</exception>
    public static Wire.DecodeLtcWordsResponse Decode(Wire.DecodeLtcWordsRequest request)
    {
        Violations violations = new();
        LtcFormat? format = Format(new LabelReader(violations), violations, request.Format);
        int count = request.Words.Length / LtcWord.ByteCount;
        violations.Require("words", request.Words.Length % LtcWord.ByteCount == 0, $"has {request.Words.Length} bytes; allowed are whole words of {LtcWord.ByteCount}");
        violations.Require("words", count <= LabelReader.MostItems, $"has {count} words; allowed is 0 to {LabelReader.MostItems}");
        violations.ThrowIfAny();

        Wire.DecodeLtcWordsResponse response = new();
        for (int i = 0; i < count; i++)
        {
            ReadOnlySpan<byte> bytes = request.Words.Span.Slice(i * LtcWord.ByteCount, LtcWord.ByteCount);
            Timecode label = default;
            LtcFault fault = LtcWord.TryRead(bytes, out LtcWord word);
            fault = fault == LtcFault.None ? word.TryGetLabel(format!, out label) : fault;
            if (fault != LtcFault.None)
            {
                response.Errors.Add(new Wire.LabelError { Index = i, Field = "words", Description = Describe(fault, word, format!) });
            }

            response.FrameIndices.Add(fault == LtcFault.None ? label.FrameIndex : LabelBatch.NoFrame);
            response.UserBits.Add(word.UserBits);
            response.ColourFrames.Add(word.ColourFrame);
            response.BinaryGroupFlags.Add(word.BinaryGroupFlags(format!));
            response.EvenParities.Add(word.HasEvenParity);
        }

        return response;
    }

    private static LtcFormat? Format(LabelReader reader, Violations violations, Wire.LabelFormat? message)
    {
        if (reader.Format("format", message) is not { } frames)
        {
            return null;
        }

        bool carried = LtcFormat.TryCreate(frames, out LtcFormat? format, out string problem);
        violations.Require(FieldPath.Of("format")["rate"], carried, $"is {frames.Rate}: {problem}");
        return format;
    }

    private static string Describe(LtcFault fault, LtcWord word, LtcFormat format) => fault switch
    {
        LtcFault.SyncWord => "bits 64 to 79 are not the synchronising word 0011111111111101",
        LtcFault.Digit => "a decimal digit says 10 or more",
        LtcFault.Hours => $"hours are {word.Fields.Hours}; allowed is 0 to 23",
        LtcFault.Minutes => $"minutes are {word.Fields.Minutes}; allowed is 0 to 59",
        LtcFault.Seconds => $"seconds are {word.Fields.Seconds}; allowed is 0 to 59",
        LtcFault.Frames => $"the frame number is {word.Fields.Frames}; allowed is 0 to {format.Words.Nominal - 1}",
        LtcFault.DropFlag => $"the drop-frame flag is {word.DropFrame}, but the format is {format.Frames}",
        LtcFault.Dropped => "drop-frame numbering leaves this label out",
        _ => "these are not ten bytes",
    };
}
