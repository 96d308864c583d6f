using System.Text.RegularExpressions;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using Xunit;

namespace PostPipeline.Studies.Tests.Printing;

/// <summary>The pages that are handed over.</summary>
public sealed partial class PagesTests
{
    private static readonly PageFooter Footer = new("3", "2026-11-25", new string('a', 64));

    private static readonly Comparison Answer = Compare.Run(
        new StudyModel(StudyFixtures.Prepared(
            "title: Pages\n" + StudyFixtures.ThreeCameras
            + "\nproxies: {names_kept: yes}\nstorage: {online: {capacity: 1 PB}, nearline: {capacity: 1 PB}}\noffload: {destinations: [{size: 20 TB, count: 3}, {}]}\nturnovers: {count: 2, hours: 9 h}\nevents: [{name: refused, probability: 0.15, delay: 5 d, cost: 2500, hits: review}]\n")),
        40);

    private static string Text(string kind) => System.Net.WebUtility.HtmlDecode(Tags().Replace(Pages.Of(kind, Answer, Footer), "|"));

    [Fact]
    public void Pages_EveryKind_EscapesNamesAndCarriesTheFooter()
    {
        PreparedStudy study = StudyFixtures.Prepared("title: \"<b>Salt & Smoke</b>\"\n" + StudyFixtures.ThreeCameras);
        Comparison comparison = Compare.Run(new StudyModel(study), 30);
        foreach (string kind in Pages.KindNames)
        {
            string page = Pages.Of(kind, comparison, new("3", "2026-11-25", new string('a', 64)));
            Assert.DoesNotContain("<b>Salt", page, StringComparison.Ordinal);
            Assert.Contains("&lt;b&gt;Salt &amp; Smoke", page, StringComparison.Ordinal);
            Assert.Contains("revision 3", page, StringComparison.Ordinal);
            Assert.Contains("page 1 of ", page, StringComparison.Ordinal);
            Assert.Contains("inputs guessed", page, StringComparison.Ordinal);
            Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        }

        Assert.Contains("do not clear", Pages.Of("release", comparison, new("1", "2026-11-25", "ab")), StringComparison.Ordinal);
    }

    // 12 × 0.65 + 1.5 = 9.3 kW = 31,732 BTU/h; 230 V at unity 40.4 A; ÷ 0.95 = 42.6 A; continuous ÷ 0.8 = 53.2 A
    // (common practice, no source).
    [Fact]
    public void PowerRequest_TwelveNodes_EqualsWorkedNumber()
    {
        PowerRequest power = PowerRequest.Of(12);
        Assert.Equal(9.3, power.Kilowatts, 1e-9);
        Assert.Equal(31_732, power.BtuPerHour, 0.5);
        Assert.Equal(40.4, power.UnityAmperes, 0.05);
        Assert.Equal(42.6, power.Amperes, 0.05);
        Assert.Equal(53.2, power.CircuitAmperes, 0.05);
    }

    [Fact]
    public void Pages_EveryKind_AreCountedAndUseNoColour()
    {
        foreach (string kind in Pages.KindNames)
        {
            string html = Pages.Of(kind, Answer, Footer);
            int sections = Sections().Count(html);
            Assert.True(sections > 0);
            Assert.Equal(sections, Footers().Count(html));
            Assert.Contains($"page {sections} of {sections}</footer>", html, StringComparison.Ordinal);
            Assert.All(Colours().Matches(html), c => Assert.Contains(c.Value, new[] { "#000", "#fff", "#444" }));
            Assert.DoesNotContain("http", html, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void SetUp_ACamera_HasAPageWithOnlyWhatCanBeSetInItsTables()
    {
        string html = Pages.Of("set-up", Answer, Footer);
        Assert.Equal(3, Sections().Count(html));
        string first = html[..html.IndexOf("</section>", StringComparison.Ordinal)];
        Assert.Contains("<td>camera letter in clip names</td><td class=\"short\">A</td><td class=\"blank\">", first, StringComparison.Ordinal);
        Assert.DoesNotContain("a card lasts", first[..first.IndexOf("To know", StringComparison.Ordinal)], StringComparison.Ordinal);
        Assert.Contains("a card lasts 1.33 h of recording", first, StringComparison.Ordinal);
    }

    // Reference clip R writes 106.168 MB/s (trade arithmetic, no source): 10¹² ÷ 106,168,320 B/s = 9,419 s = 2.62 h.
    [Fact]
    public void RecordTimes_ReferenceClip_SaysTheTimeAndWhatIsNotKeptFree()
    {
        string text = Text("record-times");
        Assert.Contains("main (24 fps, 106 MB/s written)||2.62 h|", text, StringComparison.Ordinal);
        Assert.Contains("nothing kept free for sound or reserve", text, StringComparison.Ordinal);
        Assert.Contains("Each mode stays below what the cards can be trusted to take.", text, StringComparison.Ordinal);
    }

    // At 240 frames a second it writes 1,062 MB/s, more than 85 % of 900 MB/s: 1 TB is 942 s of bursts.
    [Fact]
    public void RecordTimes_ModeThatOnlyBursts_IsSaidAsSuchWithTheLimit()
    {
        Comparison fast = Compare.Run(new StudyModel(StudyFixtures.Prepared(StudyFixtures.ThreeCameras.Replace("modes:", "modes:\n  - {name: fast, bits_per_pixel: 4.0, frame_rate: 24, sensor_rate: 240}", StringComparison.Ordinal))), 30);
        string text = System.Net.WebUtility.HtmlDecode(Tags().Replace(Pages.Of("record-times", fast, Footer), "|"));
        Assert.Contains("15.7 min, in bursts only", text, StringComparison.Ordinal);
        Assert.Contains("MB/s written). A take ends when the buffer is full", text, StringComparison.Ordinal);
    }

    // The sheet asks, and never answers: every box is empty, and there is room for two names and signatures.
    [Theory]
    [InlineData("release", 10, "do not clear")]
    [InlineData("purge", 7, "do not delete")]
    public void Evidence_EverySheet_HasBlanksForEachItemAndSignatures(string kind, int items, string says)
    {
        string html = Pages.Of(kind, Answer, Footer);
        string ticks = html[html.IndexOf("<table class=\"ticks\">", StringComparison.Ordinal)..html.IndexOf(says, StringComparison.Ordinal)];
        Assert.Equal(4 * items, ticks.Split("<td class=\"blank\"></td>").Length - 1);
        string signatures = html[html.IndexOf("<table class=\"signatures\">", StringComparison.Ordinal)..];
        Assert.Equal(6, signatures.Split("<td class=\"blank\"></td>").Length - 1);
        Assert.Contains("A named human decides; any unknown means", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Power_OfTheFarm_NamesTheNodesTheInventedLoadAndWhoDecides()
    {
        string text = Text("power");
        int nodes = Answer.Model.Study.Brief.Farm.Nodes.Sum(n => n.Count);
        Assert.Contains($"{nodes} nodes together.", text, StringComparison.Ordinal);
        Assert.Contains($"|electrical load||{Numbers.Three((0.65 * nodes) + 1.5)} kW||", text, StringComparison.Ordinal);
        Assert.Contains("(invented; measure the maximum)", text, StringComparison.Ordinal);
        Assert.Contains("A qualified electrician and local codes decide", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Order_CardsDrivesAndTapes_AreCountedForTheP90()
    {
        // 71.66 TB on drives of 20 TB: 3.58, four; on tapes of 16.56 TB twice: 4.33, five a set. Three cards a camera.
        string text = Text("order");
        Assert.Contains("cards 'card', 1 TB||9||most at once", text, StringComparison.Ordinal);
        Assert.Contains("drives of copy 1, 20 TB||4||3.58, rounded up, for 71.7 TB (P90); 3 are there", text, StringComparison.Ordinal);
        Assert.Contains("drives of copy 2||71.7 TB||all originals", text, StringComparison.Ordinal);
        Assert.Contains("tapes, 18 TB||10||2 sets of 4.33, rounded up", text, StringComparison.Ordinal);
        Assert.Contains("online storage, raw, for", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Unknowns_LeftOut_IsWhatThisBriefIsSilentAbout()
    {
        string text = Text("unknowns");
        Assert.Equal(4, Answer.Model.Study.Brief.LeftOut.Count);
        Assert.All(Answer.Model.Study.Brief.LeftOut, l => Assert.Contains(l, text, StringComparison.Ordinal));
        Assert.DoesNotContain("turnovers to effects and sound", text, StringComparison.Ordinal);
        Assert.Contains("nobody has measured what it decodes", text, StringComparison.Ordinal);
        Assert.All(Answer.Margins, m => Assert.Contains(m.On, text, StringComparison.Ordinal));
        int guessed = Answer.Model.Study.Brief.Inputs.Count(i => i.Known >= PostPipeline.Quantities.Known.Guessed || i.IsUnknown);
        Assert.Contains($"{guessed} of {Answer.Model.Study.Brief.Inputs.Count} inputs guessed", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Producer_Money_AddsUpInItsMeans()
    {
        string text = Text("producer");
        PipelineOutcome preferred = Answer.Of(Answer.Preferred!);
        Assert.All(preferred.Payers, y => Assert.Contains($"|{y.Payer}||{Numbers.Money(y.Mean, "XXX", y.PriceInvented)}|", text, StringComparison.Ordinal));
        Assert.Contains($"|together||{Numbers.Money(preferred.CostMean, "XXX", true)}|", text, StringComparison.Ordinal);
        Assert.Contains($"may start {preferred.LatestShootStartDays} days later than planned", text, StringComparison.Ordinal);
        Assert.Contains("refused: 15 %", text, StringComparison.Ordinal);
        Assert.Contains("if nothing outside the brief's list happens", text, StringComparison.Ordinal);
        Assert.Contains("They rest mostly on guesses", text, StringComparison.Ordinal);
    }

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tags();

    [GeneratedRegex("<section>")]
    private static partial Regex Sections();

    [GeneratedRegex("page [0-9]+ of [0-9]+</footer></section>")]
    private static partial Regex Footers();

    [GeneratedRegex("(?<!&)#[0-9a-f]{3,6}\\b")]
    private static partial Regex Colours();
}
