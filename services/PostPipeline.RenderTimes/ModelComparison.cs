namespace PostPipeline.RenderTimes;

/// <summary>Two models on the same rows, none of which either had seen when it predicted them.</summary>
/// <param name="First">The first model.</param>
/// <param name="Second">The second model.</param>
/// <param name="Rows">Rows that both could predict.</param>
/// <param name="Families">Their families.</param>
/// <param name="FamiliesHeldOut">Families that a model had learned from: for these it was learned again without them.</param>
/// <param name="RowsLeftOut">Rows that one of the models, or both, could not predict.</param>
/// <param name="LeftOutBecause">Why the first of them was left out; empty where none was.</param>
/// <param name="DifferencePercent">Mean absolute error of the second less that of the first, percentage points.</param>
/// <param name="DifferenceLow">Lower end of its 95 % interval, families drawn anew.</param>
/// <param name="DifferenceHigh">Upper end of that interval.</param>
public sealed record ModelComparison(
    ModelErrors First,
    ModelErrors Second,
    int Rows,
    int Families,
    int FamiliesHeldOut,
    int RowsLeftOut,
    string LeftOutBecause,
    double DifferencePercent,
    double DifferenceLow,
    double DifferenceHigh)
{
    /// <summary>Which model is the better one; undecided where the interval of the difference holds zero.</summary>
    public BetterModel Better => DifferenceHigh < 0 ? BetterModel.Second : DifferenceLow > 0 ? BetterModel.First : BetterModel.Undecided;
}
