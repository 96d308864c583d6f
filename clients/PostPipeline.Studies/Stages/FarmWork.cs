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
    private readonly int[] classes;
    private readonly double[] classSpeeds;
    private readonly int licences;
    private readonly int storage;
    private readonly int failures;
    private readonly int available;
    private readonly int otherWork;

    public FarmWork(InputTable inputs, string kind, IReadOnlyList<JobFacts> jobs, IReadOnlyList<string> nodeClasses, double overheadSeconds, int segmentFrames)
    {
        secondsPerFrame = [.. jobs.Select(j => j.SecondsPerFrame)];
        bytesPerFrame = [.. jobs.Select(j => (double)(j.ReadBytesPerFrame + j.WriteBytesPerFrame))];
        overheadPerFrame = overheadSeconds / segmentFrames;
        error = inputs.PlaceOf(ErrorInput(kind));
        speed = inputs.PlaceOf("farm.speed");
        classes = [.. nodeClasses.Select(c => inputs.PlaceOf(CountInput(c)))];
        classSpeeds = [.. jobs[0].ClassSpeeds];
        licences = inputs.PlaceOf("farm.licences");
        storage = inputs.PlaceOf("farm.storage");
        failures = inputs.PlaceOf("farm.failures");
        available = inputs.PlaceOf("farm.available");
        otherWork = inputs.PlaceOf("farm.other_work");
    }

    /// <summary>The input that holds the error which all work of a kind shares.</summary>
    public static string ErrorInput(string kind) => $"predicted.{kind}";

    /// <summary>The input that holds how many nodes there are of a class.</summary>
    public static string CountInput(string nodeClass) => $"farm.nodes.{nodeClass}";

    /// <summary>Nodes over reference nodes: turns work into node-seconds.</summary>
    public double NodesPerSpeed(Scope scope)
    {
        (double count, double sum) = Farm(scope.X);
        return sum > 0 ? count / sum : 0;
    }

    /// <summary>Reference seconds of some frames of a strand (or of finished frames, strand 0).</summary>
    public double Work(Scope scope, int strand, double frames)
    {
        double[] x = scope.X;
        (double count, double sum) = Farm(x);
        double meanSpeed = count > 0 ? sum / count : 1;
        return frames * ((secondsPerFrame[strand] * x[error]) + (overheadPerFrame * meanSpeed)) / (1 - x[failures]);
    }

    /// <summary>Reference seconds done in a second of open farm.</summary>
    public double Rate(Scope scope)
    {
        double[] x = scope.X;
        (double count, double sum) = Farm(x);
        double running = x[licences] > 0 && x[licences] < count ? x[licences] / count : 1;
        double rate = sum * x[available] * running * (1 - x[otherWork]);

        // Storage feeds so many bytes a second, which is so much work of the strand that needs most bytes for its work.
        double meanSpeed = count > 0 ? sum / count : 1;
        for (int s = 0; s < secondsPerFrame.Length; s++)
        {
            double perFrame = (secondsPerFrame[s] * x[error]) + (overheadPerFrame * meanSpeed);
            rate = bytesPerFrame[s] > 0 ? Math.Min(rate, x[storage] / bytesPerFrame[s] * perFrame) : rate;
        }

        return rate;
    }

    private (double Count, double Speed) Farm(double[] x)
    {
        (double count, double sum) = (0, 0);
        for (int c = 0; c < classes.Length; c++)
        {
            count += x[classes[c]];
            sum += x[classes[c]] * classSpeeds[c];
        }

        return (count, sum * x[speed]);
    }
}
