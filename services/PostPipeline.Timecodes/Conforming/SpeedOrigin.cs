namespace PostPipeline.Timecodes.Conforming;

/// <summary>How the speed of an event is known.</summary>
public enum SpeedOrigin
{
    /// <summary>Nothing is said and both sides are equally long.</summary>
    NormalSpeed = 0,

    /// <summary>A motion line or a time warp says it.</summary>
    Stated = 1,

    /// <summary>Source and record sides differ in length and nothing says why.</summary>
    InferredFromLengths = 2,
}
