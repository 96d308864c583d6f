using NodaTime;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>One unit's day as it really was; NaN where the log is silent.</summary>
/// <param name="Date">The date.</param>
/// <param name="Unit">The unit.</param>
/// <param name="Cameras">Cameras that rolled.</param>
/// <param name="Bytes">Bytes recorded.</param>
/// <param name="Minutes">Minutes recorded, all cameras together.</param>
/// <param name="Clips">Clips.</param>
/// <param name="EventsConformed">Events conformed that day.</param>
/// <param name="ProblemEvents">Of them, events with a problem.</param>
/// <param name="FarmFrames">Frames that the farm did.</param>
/// <param name="FarmSeconds">Node-seconds that it took for them.</param>
public sealed record LogDay(
    LocalDate Date, string Unit, double Cameras, double Bytes, double Minutes, double Clips, double EventsConformed, double ProblemEvents, double FarmFrames, double FarmSeconds);
