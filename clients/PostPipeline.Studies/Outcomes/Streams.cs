using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Outcomes;

/// <summary>What one playing stream reads.</summary>
internal static class Streams
{
    /// <summary>Bytes a second of the heaviest main-rate material of a pipeline.</summary>
    public static double BytesPerSecond(PreparedStudy study, bool native, bool proxy)
    {
        Brief brief = study.Brief;
        if (proxy)
        {
            return brief.Proxies.Rate.BytesPerSecond.ToDouble();
        }

        double rate = brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble();
        return native ? study.Strands.Select(s => s.BytesPerFrame * rate).DefaultIfEmpty(0).Max() : study.MezzanineBytesPerFrame * rate;
    }
}
