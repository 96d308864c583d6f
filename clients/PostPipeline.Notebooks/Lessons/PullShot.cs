namespace PostPipeline.Notebooks.Lessons;

/// <summary>An invented cut and the clips it is made of, as sliders give them. Each event uses the middle of a clip of its own.</summary>
/// <param name="Minutes">Length of the cut, min.</param>
/// <param name="Events">Events of the cut, 1 to 2,000.</param>
/// <param name="HandleFrames">Frames wanted before and behind each event.</param>
/// <param name="ClipSeconds">Recorded length of each clip, s.</param>
/// <param name="Width">Pixels across of the originals.</param>
/// <param name="Height">Pixels down of the originals.</param>
public sealed record PullShot(double Minutes, int Events, int HandleFrames, double ClipSeconds, int Width, int Height);
