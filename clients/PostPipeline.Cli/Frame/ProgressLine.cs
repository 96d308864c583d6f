using System.Globalization;

namespace PostPipeline.Cli.Frame;

/// <summary>
/// Says on stderr how far long work is, once it has lasted a second: on a terminal as one line that is written over,
/// elsewhere as a line every ten seconds.
/// </summary>
internal sealed class ProgressLine : IProgress<double>, IDisposable
{
    private readonly Lock gate = new();
    private readonly TextWriter writer;
    private readonly string name;
    private readonly bool terminal;
    private readonly TimeProvider clock;
    private readonly ITimer timer;
    private readonly long started;
    private double part;
    private int width;
    private bool ended;

    public ProgressLine(TextWriter writer, string name, TimeProvider clock)
    {
        (this.writer, this.name, this.clock) = (writer, name, clock);
        started = clock.GetTimestamp();
        terminal = ReferenceEquals(writer, Console.Error) && !Console.IsErrorRedirected;
        timer = clock.CreateTimer(_ => Draw(), null, TimeSpan.FromSeconds(1), terminal ? TimeSpan.FromSeconds(0.25) : TimeSpan.FromSeconds(10));
    }

    /// <inheritdoc/>
    public void Report(double value) => Volatile.Write(ref part, Math.Clamp(value, 0, 1));

    /// <inheritdoc/>
    public void Dispose()
    {
        timer.Dispose();
        lock (gate)
        {
            ended = true;
            if (width > 0)
            {
                writer.Write('\r' + new string(' ', width) + '\r');
            }
        }
    }

    private void Draw()
    {
        lock (gate)
        {
            if (ended)
            {
                return;
            }

            double done = Volatile.Read(ref part);
            TimeSpan spent = clock.GetElapsedTime(started);
            string left = done is > 0.02 and < 1 ? string.Create(CultureInfo.InvariantCulture, $", about {spent.TotalSeconds * (1 - done) / done:0} s left") : string.Empty;
            string text = string.Create(CultureInfo.InvariantCulture, $"{name}: {done:P0} after {spent.TotalSeconds:0} s{left}");
            if (terminal)
            {
                writer.Write('\r' + text.PadRight(width));
                width = Math.Max(width, text.Length);
            }
            else
            {
                writer.WriteLine(text);
            }
        }
    }
}
