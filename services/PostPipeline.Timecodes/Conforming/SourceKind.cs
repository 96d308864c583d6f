namespace PostPipeline.Timecodes.Conforming;

/// <summary>Where an event's pictures come from.</summary>
public enum SourceKind
{
    /// <summary>A recorded clip, to be found in an inventory.</summary>
    Clip = 0,

    /// <summary>Black; nothing to find.</summary>
    Black = 1,

    /// <summary>An auxiliary source without a reel, such as a title or a generator: a person supplies it.</summary>
    Auxiliary = 2,
}
