using System.Collections.Immutable;
using PostPipeline.Timecodes.Conforming;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>A take that was cut into several files. It is matched as one clip; its files are what is copied.</summary>
/// <param name="Row">The row of the inventory that stands for the whole take.</param>
/// <param name="Chunks">Its files in order of their numbers.</param>
/// <param name="ExpectedChunks">How many files it should have.</param>
/// <param name="MissingChunks">Numbers of the files that are not in the inventory, from 1.</param>
/// <param name="BrokenAfter">Numbers of the files after which the labels do not run on although the next file is there.</param>
/// <param name="Copies">Rows that repeat a file which is already in the take; they are not matched.</param>
public sealed record ChunkedTake(
    int Row,
    ImmutableArray<TakeChunk> Chunks,
    int ExpectedChunks,
    ImmutableArray<int> MissingChunks,
    ImmutableArray<int> BrokenAfter,
    ImmutableArray<int> Copies)
{
    /// <summary>Whether files are missing before the first one that is there.</summary>
    public bool StartIsMissing => Chunks[0].Number > 1;

    /// <summary>Whether files are missing behind the last one that is there.</summary>
    public bool EndIsMissing => Chunks[^1].Number < ExpectedChunks;

    /// <summary>The frames around one frame that lie in files which follow each other without a gap.</summary>
    /// <param name="frame">A frame that is there, counted from the take's first frame.</param>
    public SourceSpan RunAround(long frame)
    {
        long start = 0;
        long end = 0;
        foreach (TakeChunk chunk in Chunks)
        {
            if (chunk.Offset > end)
            {
                if (frame < end)
                {
                    break;
                }

                start = chunk.Offset;
            }

            end = Math.Max(end, chunk.Offset + chunk.Frames);
        }

        return new(start, end - start);
    }

    /// <summary>Whether every frame of [from, until), counted from the take's first frame, lies in a file that is there.</summary>
    /// <param name="from">First frame.</param>
    /// <param name="until">The frame after the last.</param>
    public bool Holds(long from, long until)
    {
        foreach (TakeChunk chunk in Chunks)
        {
            if (from >= until)
            {
                break;
            }

            if (chunk.Offset <= from && chunk.Offset + chunk.Frames > from)
            {
                from = chunk.Offset + chunk.Frames;
            }
        }

        return from >= until;
    }
}
