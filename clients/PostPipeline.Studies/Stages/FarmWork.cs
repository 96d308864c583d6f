using PostPipeline.Studies.Inputs;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// One kind of farm work in the fluid model: seconds of the reference node for frames of each strand, and the speed at
/// which the farm does them, limited by nodes, licences and storage.
/// </summary>
/// <remarks>
/// A task's overhead is not divided by a node's speed, so a frame costs s + (o/L)·v̄ reference seconds with L frames a
/// task and v̄ the mean speed; failed tasks are done again, 1/(1−p).
/// </remarks>
internal sealed class FarmWork
{
    private readonly double[] secondsPerFrame;
    private readonly double[] bytesPerFrame;
    private readonly double overheadPerFrame;
    private readonly int error;
    private readonly int speed;
    private readonly int nodes;
    private readonly int licences;
    private readonly int storage;
    private readonly int failures;
    private readonly int available;

    public FarmWork(InputTable inputs, string kind, IReadOnlyList<JobFacts> jobs, double overheadSeconds, int segmentFrames)
    {
        secondsPerFrame = [.. jobs.Select(j => j.SecondsPerFrame)];
        bytesPerFrame = [.. jobs.Select(j => (double)(j.ReadBytesPerFrame + j.WriteBytesPerFrame))];
        overheadPerFrame = overheadSeconds / segmentFrames;
        error = inputs.PlaceOf(ErrorInput(kind));
        speed = inputs.PlaceOf("farm.speed");
        nodes = inputs.PlaceOf("farm.count");
        licences = inputs.PlaceOf("farm.licences");
        storage = inputs.PlaceOf("farm.storage");
        failures = inputs.PlaceOf("farm.failures");
        available = inputs.PlaceOf("farm.available");
    }

    /// <summary>The input that holds the error which all work of a kind shares.</summary>
    public static string ErrorInput(string kind) => $"predicted.{kind}";

    /// <summary>Reference seconds of some frames of a strand (or of finished frames, strand 0).</summary>
    public double Work(Scope scope, int strand, double frames)
    {
        double[] x = scope.X;
        double meanSpeed = x[nodes] > 0 ? x[speed] / x[nodes] : 1;
        return frames * ((secondsPerFrame[strand] * x[error]) + (overheadPerFrame * meanSpeed)) / (1 - x[failures]);
    }

    /// <summary>Reference seconds done in a second of open farm.</summary>
    public double Rate(Scope scope)
    {
        double[] x = scope.X;
        double running = x[licences] > 0 && x[licences] < x[nodes] ? x[licences] / x[nodes] : 1;
        double rate = x[speed] * x[available] * running;

        // Storage feeds so many bytes a second, which is so much work of the strand that needs most bytes for its work.
        double meanSpeed = x[nodes] > 0 ? x[speed] / x[nodes] : 1;
        for (int s = 0; s < secondsPerFrame.Length; s++)
        {
            double perFrame = (secondsPerFrame[s] * x[error]) + (overheadPerFrame * meanSpeed);
            rate = bytesPerFrame[s] > 0 ? Math.Min(rate, x[storage] / bytesPerFrame[s] * perFrame) : rate;
        }

        return rate;
    }
}
