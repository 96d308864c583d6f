using System.Buffers;
using Google.Protobuf;
using PostPipeline.Hosting.Validation;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>Puts the pieces of one file of a stream together, up to a limit.</summary>
internal sealed class ByteCollector(string field, int mostBytes)
{
    /// <summary>The largest piece.</summary>
    public const int MostPieceBytes = 1 << 20;

    private readonly ArrayBufferWriter<byte> bytes = new();

    /// <summary>Whether any piece has come.</summary>
    public bool HasAny { get; private set; }

    /// <summary>The bytes so far.</summary>
    public ReadOnlyMemory<byte> Bytes => bytes.WrittenMemory;

    /// <summary>Checks the size of a piece of any file.</summary>
    public static void CheckPiece(string field, ByteString piece)
    {
        if (piece.Length > MostPieceBytes)
        {
            throw new InvalidRequestException([new(field, $"has {piece.Length} bytes; allowed are {MostPieceBytes} a message")], 1);
        }
    }

    /// <summary>Takes the next piece.</summary>
    public void Take(ByteString piece)
    {
        CheckPiece(field, piece);
        if (bytes.WrittenCount + piece.Length > mostBytes)
        {
            throw new InvalidRequestException([new(field, $"has more than {mostBytes} bytes, which is the limit")], 1);
        }

        HasAny = true;
        bytes.Write(piece.Span);
    }
}
