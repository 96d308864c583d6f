using PostPipeline.Notebooks.Documents;

namespace PostPipeline.Notebooks.Runs;

/// <summary>Stands between a cell and whoever takes its outputs: joins text written in pieces, and cuts what is too long, saying so.</summary>
/// <param name="next">Takes what passes.</param>
internal sealed class OutputGate(Action<CellOutput> next)
{
    /// <summary>The most characters of text that a cell may leave in a notebook.</summary>
    public const int MostText = 200_000;

    /// <summary>The most characters of values that a cell may leave in a notebook.</summary>
    public const int MostValues = 64_000_000;

    private readonly Lock gate = new();
    private readonly System.Text.StringBuilder pending = new();
    private string pendingName = string.Empty;
    private long text;
    private long values;
    private bool told;

    public void Take(CellOutput output)
    {
        lock (gate)
        {
            switch (output)
            {
                case CellOutput.Text written:
                    TakeText(written);
                    break;
                case CellOutput.Value value:
                    FlushPending();
                    values += value.Bundle.Parts.Sum(part => (long)part.Value.Length);
                    next(values <= MostValues ? value : new CellOutput.Text("stderr", $"A value was left out: this cell already put out {MostValues} characters.\n"));
                    break;
                default:
                    FlushPending();
                    next(output);
                    break;
            }
        }
    }

    /// <summary>Passes on what was held back.</summary>
    public void Flush()
    {
        lock (gate)
        {
            FlushPending();
        }
    }

    private void TakeText(CellOutput.Text written)
    {
        if (text >= MostText)
        {
            if (!told)
            {
                told = true;
                FlushPending();
                next(new CellOutput.Text("stderr", $"Text was cut here: a cell may leave {MostText} characters.\n"));
            }

            return;
        }

        if (pendingName != written.Name || pending.Length > 8_000)
        {
            FlushPending();
            pendingName = written.Name;
        }

        int room = (int)Math.Min(written.Content.Length, MostText - text);
        pending.Append(written.Content, 0, room);
        text += written.Content.Length;
    }

    private void FlushPending()
    {
        if (pending.Length > 0)
        {
            next(new CellOutput.Text(pendingName, pending.ToString()));
            pending.Clear();
        }
    }
}
