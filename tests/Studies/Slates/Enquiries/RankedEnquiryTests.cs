using PostPipeline.Slates.Enquiries;
using PostPipeline.Slates.Planning;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates.Enquiries;

// Answers written by hand: which of them is worth asking about first.
public sealed class RankedEnquiryTests
{
    private static readonly EnquiryAt Now = new(5, EnquiryVerdict.AtAPrice, 100, 0, [], "proxy");

    [Fact]
    public void Order_VerdictBeforeDatesBeforePriceBeforePipeline()
    {
        EnquiryUnknown pipeline = Unknown("pipeline", Now, Now with { Pipeline = "native" });
        EnquiryUnknown price = Unknown("price", Now, Now with { Price = 900 });
        EnquiryUnknown dates = Unknown("dates", Now with { Verdict = EnquiryVerdict.OnlyIfDatesGiveWay, LateHalfDays = 3 }, Now);
        EnquiryUnknown no = Unknown("no", new(1, EnquiryVerdict.Yes, 0, 0, [], "proxy"), new(9, EnquiryVerdict.No, 0, 0, [], null));
        EnquiryUnknown nothing = Unknown("nothing", Now, Now);
        Assert.Equal(["no", "dates", "price", "pipeline"], RankedEnquiry.Order([nothing, pipeline, price, dates, no], 0, 0).Select(u => u.Input));
        Assert.Equal((3, 0, 100L), (no.VerdictSteps, no.LateSpread, no.PriceSpread));
        Assert.Equal((1, 3, 0L), (dates.VerdictSteps, dates.LateSpread, dates.PriceSpread));
    }

    // What a search that runs again moves the price by is not worth a question, even where it turns "yes" into "at a price".
    [Fact]
    public void Order_DifferenceWithinTheSearchsNoise_CountsAsNothing()
    {
        EnquiryUnknown small = Unknown("small", Now with { Price = 0, Verdict = EnquiryVerdict.Yes }, Now);
        Assert.Empty(RankedEnquiry.Order([small], 100, 0));
        Assert.Single(RankedEnquiry.Order([small], 99, 0));
        EnquiryUnknown later = Unknown("later", Now, Now with { Verdict = EnquiryVerdict.OnlyIfDatesGiveWay, LateHalfDays = 2 });
        Assert.Empty(RankedEnquiry.Order([later], 0, 2));
        Assert.Single(RankedEnquiry.Order([later], 0, 1));

        // A no is never noise.
        Assert.Single(RankedEnquiry.Order([Unknown("no", Now, Now with { Verdict = EnquiryVerdict.No, Pipeline = null })], 1000, 1000));
    }

    private static EnquiryUnknown Unknown(string input, EnquiryAt low, EnquiryAt high) => new(input, "d", Now, low, high, "guessed", "editor");
}
