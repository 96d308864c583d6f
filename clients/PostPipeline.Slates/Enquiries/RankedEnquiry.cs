namespace PostPipeline.Slates.Enquiries;

/// <summary>Which unknown of an enquiry to ask about first.</summary>
/// <param name="Ask">Those that change the answer, the one that changes it most first.</param>
/// <param name="Uncertain">Inputs of its brief that are not certain, what belongs to the house left out.</param>
/// <param name="Moving">Of them, those that move any work, storage or choice of pipeline on the slate at all.</param>
/// <param name="Planned">Of these, those that were planned with: the ones that move most.</param>
/// <param name="PriceNoise">What the price moves by when nothing changes and the search runs again: smaller differences count as nothing.</param>
/// <param name="LateNoise">The same of the half-days that dates give way by.</param>
public sealed record RankedEnquiry(IReadOnlyList<EnquiryUnknown> Ask, int Uncertain, int Moving, int Planned, long PriceNoise, int LateNoise)
{
    /// <summary>Puts unknowns in order: what changes the verdict, then the dates, then the price, then only its own pipeline.</summary>
    /// <param name="unknowns">Unknowns with their answers.</param>
    /// <param name="priceNoise">A difference in price up to this counts as nothing.</param>
    /// <param name="lateNoise">A difference in half-days up to this counts as nothing.</param>
    /// <returns>Those that change anything.</returns>
    public static IReadOnlyList<EnquiryUnknown> Order(IEnumerable<EnquiryUnknown> unknowns, long priceNoise, int lateNoise)
    {
        int Late(EnquiryUnknown u) => u.LateSpread > lateNoise ? u.LateSpread : 0;
        long Price(EnquiryUnknown u) => u.PriceSpread > priceNoise ? u.PriceSpread : 0;

        // A verdict that hangs on a price or a delay within the noise is noise too, unless it is a no.
        int Steps(EnquiryUnknown u) => Late(u) > 0 || Price(u) > 0 || u.Low.Pipeline is null != u.High.Pipeline is null ? u.VerdictSteps : 0;
        return [.. unknowns
            .Where(u => Steps(u) > 0 || Late(u) > 0 || Price(u) > 0 || u.ChangesPipeline)
            .OrderByDescending(Steps).ThenByDescending(Late).ThenByDescending(Price).ThenBy(u => u.Input, StringComparer.Ordinal)];
    }
}
