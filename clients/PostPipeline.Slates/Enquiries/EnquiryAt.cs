using PostPipeline.Slates.Planning;

namespace PostPipeline.Slates.Enquiries;

/// <summary>What is said to an enquiry where one of its unknowns has a given value.</summary>
/// <param name="Value">The value, in the input's unit.</param>
/// <param name="Verdict">The answer.</param>
/// <param name="Price">The price on top of its own pipeline; 0 where there is no plan.</param>
/// <param name="LateHalfDays">Half-days that dates give way by, all projects together, the enquiry among them.</param>
/// <param name="GivesWay">Whose dates give way.</param>
/// <param name="Pipeline">The pipeline that the enquiry takes; null where there is no plan.</param>
public sealed record EnquiryAt(double Value, EnquiryVerdict Verdict, long Price, int LateHalfDays, IReadOnlyList<string> GivesWay, string? Pipeline)
{
    /// <summary>Reads an answer.</summary>
    /// <param name="value">The value of the unknown.</param>
    /// <param name="answer">The answer with it.</param>
    /// <param name="enquiry">Name of the enquiry.</param>
    public static EnquiryAt Of(double value, EnquiryAnswer answer, string enquiry) => new(
        value,
        answer.Verdict,
        answer.With is null ? 0 : answer.Price,
        answer.Dates.Sum(d => d.LateAfter - d.LateBefore),
        [.. answer.Dates.Select(d => d.Project)],
        answer.With?.Of(enquiry).Pipeline);
}
