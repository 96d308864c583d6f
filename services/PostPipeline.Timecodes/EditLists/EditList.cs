using System.Collections.Immutable;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>An edit decision list as text gives it (SMPTE ST 258): labels not yet tied to a frame rate.</summary>
/// <param name="Title">The title; null where the list has none.</param>
/// <param name="Preamble">Comments before the first event.</param>
/// <param name="Events">Event lines in order.</param>
public sealed record EditList(string? Title, ImmutableArray<EditComment> Preamble, ImmutableArray<EditEvent> Events)
{
    /// <summary>A list without events.</summary>
    public static EditList Empty { get; } = new(null, [], []);

    /// <summary>Whether both lists say the same, whatever their layout.</summary>
    /// <param name="other">The list to compare with.</param>
    public bool MeansSameAs(EditList other)
    {
        if (Title != other.Title || Events.Length != other.Events.Length || !Preamble.AsSpan().SequenceEqual(other.Preamble.AsSpan()))
        {
            return false;
        }

        for (int i = 0; i < Events.Length; i++)
        {
            if (!Events[i].MeansSameAs(other.Events[i]))
            {
                return false;
            }
        }

        return true;
    }
}
