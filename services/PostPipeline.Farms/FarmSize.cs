namespace PostPipeline.Farms;

/// <summary>One size of farm that was tried.</summary>
/// <param name="Nodes">Nodes of the class that is sized.</param>
/// <param name="FinishP50">P50 of the finish, microseconds; infinite where it was not reached.</param>
/// <param name="FinishP90">P90 of the finish, microseconds; infinite where it was not reached.</param>
/// <param name="OnTime">Probability of the date.</param>
/// <param name="Bounds">What no schedule at median times can beat.</param>
public sealed record FarmSize(int Nodes, double FinishP50, double FinishP90, Likelihood OnTime, FarmBounds Bounds);
