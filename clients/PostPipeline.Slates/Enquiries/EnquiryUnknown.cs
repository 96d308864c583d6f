namespace PostPipeline.Slates.Enquiries;

/// <summary>An unknown of an enquiry, and what the answer would be at both ends of it.</summary>
/// <param name="Input">The input of its brief.</param>
/// <param name="Unit">The unit of its values.</param>
/// <param name="Now">The answer as things stand; its value is the likely one.</param>
/// <param name="Low">The answer at the value that it lies below one time in ten.</param>
/// <param name="High">The answer at the value that it lies above one time in ten.</param>
/// <param name="Known">How it is known now.</param>
/// <param name="WhoKnows">Who would know.</param>
public sealed record EnquiryUnknown(string Input, string Unit, EnquiryAt Now, EnquiryAt Low, EnquiryAt High, string Known, string WhoKnows)
{
    /// <summary>Steps between the mildest and the hardest answer: yes, at a price, only if dates give way, no.</summary>
    public int VerdictSteps => Spread(a => (int)a.Verdict);

    /// <summary>Half-days between the least and the most that dates give way by.</summary>
    public int LateSpread => Spread(a => a.LateHalfDays);

    /// <summary>Money between the lowest and the highest price.</summary>
    public long PriceSpread => Math.Max(Now.Price, Math.Max(Low.Price, High.Price)) - Math.Min(Now.Price, Math.Min(Low.Price, High.Price));

    /// <summary>Whether the enquiry would take another pipeline.</summary>
    public bool ChangesPipeline => Low.Pipeline != Now.Pipeline || High.Pipeline != Now.Pipeline;

    private int Spread(Func<EnquiryAt, int> of) => Math.Max(of(Now), Math.Max(of(Low), of(High))) - Math.Min(of(Now), Math.Min(of(Low), of(High)));
}
