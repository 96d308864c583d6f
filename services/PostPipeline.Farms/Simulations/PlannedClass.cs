namespace PostPipeline.Farms.Simulations;

/// <summary>A job class as the simulation sees it.</summary>
internal struct PlannedClass
{
    public int Licence;
    public int Storage;
    public double Overlap;
    public double TaskLogSd;
    public double SharedLogSd;
    public int ErrorEntity;
    public double FailureProbability;
    public double FailurePoint;
    public double BrokenProbability;
    public int RetryCap;
    public bool CanFail;
}
