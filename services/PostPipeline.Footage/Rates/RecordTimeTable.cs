using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>How long each card lasts in each mode: what is taped to the camera cart.</summary>
public sealed class RecordTimeTable
{
    private readonly MediaLife[,] lives;

    private RecordTimeTable(IReadOnlyList<RecordingMode> modes, IReadOnlyList<DataSize> cards, MediaLife[,] lives) =>
        (Modes, Cards, this.lives) = (modes, cards, lives);

    /// <summary>The rows.</summary>
    public IReadOnlyList<RecordingMode> Modes { get; }

    /// <summary>The columns.</summary>
    public IReadOnlyList<DataSize> Cards { get; }

    /// <summary>One cell.</summary>
    /// <param name="mode">Row from 0.</param>
    /// <param name="card">Column from 0.</param>
    public MediaLife this[int mode, int card] => lives[mode, card];

    /// <summary>Fills the table.</summary>
    /// <param name="modes">The rows.</param>
    /// <param name="cards">The columns.</param>
    /// <param name="reserve">The part of each card kept free.</param>
    public static RecordTimeTable Of(IReadOnlyList<RecordingMode> modes, IReadOnlyList<DataSize> cards, Rational reserve = default)
    {
        MediaLife[,] lives = new MediaLife[modes.Count, cards.Count];
        for (int m = 0; m < modes.Count; m++)
        {
            RateEstimate estimate = modes[m].Estimate();
            for (int c = 0; c < cards.Count; c++)
            {
                lives[m, c] = MediaLife.Of(cards[c], estimate.Average, modes[m].SensorRate, modes[m].ProjectRate, reserve);
            }
        }

        return new(modes, cards, lives);
    }
}
