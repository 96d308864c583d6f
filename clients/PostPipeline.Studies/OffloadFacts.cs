namespace PostPipeline.Studies;

/// <summary>
/// Each unit's day of offload, simulated card by card at several multiples of the planned material; a draw interpolates
/// between them.
/// </summary>
/// <param name="Levels">Multiples of the planned material, ascending.</param>
/// <param name="EndSeconds">By unit, shoot day and level: when the last card is done, s after midnight; NaN where the unit does not work.</param>
/// <param name="Cards">By unit and shoot day at the planned material: cards pulled.</param>
/// <param name="StationLoad">By unit: the highest load of the stations at the planned material.</param>
/// <param name="CardsWithSpares">By camera: the most cards of a day, spares included.</param>
/// <param name="BindingLink">The slowest link of a copy.</param>
public sealed record OffloadFacts(
    IReadOnlyList<double> Levels,
    IReadOnlyList<IReadOnlyList<double[]>> EndSeconds,
    IReadOnlyList<int[]> Cards,
    IReadOnlyList<double> StationLoad,
    IReadOnlyList<int> CardsWithSpares,
    string BindingLink)
{
    /// <summary>By camera and level: the most cards in use at once on its heaviest day, spares included; empty where not asked.</summary>
    public IReadOnlyList<double[]> CardsByLevel { get; init; } = [];

    /// <summary>The most cards of a camera in use at once at a multiple of its material, spares included.</summary>
    /// <param name="camera">Place of the camera.</param>
    /// <param name="multiple">Drawn material over planned material.</param>
    public double CardsAt(int camera, double multiple) => CardsByLevel.Count == 0
        ? CardsWithSpares[camera]
        : Math.Ceiling(Math.Max(CardsByLevel[camera][0], Between(CardsByLevel[camera], multiple, LevelOf(multiple))) - 1e-9);

    /// <summary>The end of a unit's day at a multiple of its material, s after midnight; straight lines between and beyond the levels.</summary>
    /// <param name="unit">Place of the unit.</param>
    /// <param name="day">Shoot day, from 0.</param>
    /// <param name="multiple">Drawn material over planned material.</param>
    public double EndAt(int unit, int day, double multiple) => EndAt(unit, day, multiple, LevelOf(multiple));

    /// <summary>The same for many days of one multiple.</summary>
    internal double EndAt(int unit, int day, double multiple, int level)
    {
        double[] ends = EndSeconds[unit][day];
        return Math.Max(ends[0], Between(ends, multiple, level));
    }

    /// <summary>The place of the level that ends the piece in which a multiple lies.</summary>
    internal int LevelOf(double multiple)
    {
        int i = 1;
        while (i < Levels.Count - 1 && multiple > Levels[i])
        {
            i++;
        }

        return i;
    }

    private double Between(double[] values, double multiple, int i)
    {
        double slope = (values[i] - values[i - 1]) / (Levels[i] - Levels[i - 1]);
        return values[i - 1] + (slope * (multiple - Levels[i - 1]));
    }
}
