namespace PostPipeline.Farms;

/// <summary>A task that is under way when the simulation begins.</summary>
/// <param name="Job">Its job, by index.</param>
/// <param name="Node">The node that holds it, numbered through the classes in their order.</param>
/// <param name="Frames">Frames that it renders, 1 or more.</param>
/// <param name="ElapsedMicroseconds">How long it has run, 0 or more.</param>
/// <param name="Stuck">Whether it is taken to hang: it is ended when somebody looks, and tried again.</param>
public sealed record RunningTask(int Job, int Node, long Frames, long ElapsedMicroseconds, bool Stuck = false);
