using PostPipeline.Notebooks.Charts;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>Every series has something besides its hue; lightness by <see cref="Luminance"/>.</summary>
public sealed class PaletteTests
{
    // What a hatch needs to be seen on its hue has no source: 1.9:1 is what was found legible in pictures turned to grey.
    private const double SeenOnItsHue = 1.9;

    public static TheoryData<int> Series => [.. Enumerable.Range(0, 14)];

    [Fact]
    public void FirstSeven_HaveADashAMarkerAndAHatchOfTheirOwn()
    {
        int[] seven = [.. Enumerable.Range(0, 7)];
        Assert.Equal(7, seven.Select(Palette.Dash).Distinct().Count());
        Assert.Equal(7, seven.Select(Palette.Marker).Distinct().Count());
        Assert.Equal(7, seven.Select(Palette.Hatch).Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Series))]
    public void Hatch_IsSeenOnItsHue_AndTextIsLegibleOnBoth(int series)
    {
        // WCAG 2.2, success criterion 1.4.3: 4.5:1 for text.
        Assert.InRange(Luminance.Contrast(Palette.TextOn(series), Palette.Hue(series)), 4.5, 21);
        if (Palette.Hatch(series).Length > 0)
        {
            string hatch = Luminance.Over(Palette.HatchInk(series), Palette.Hue(series));
            Assert.InRange(Luminance.Contrast(hatch, Palette.Hue(series)), SeenOnItsHue, 21);
            Assert.InRange(Luminance.Contrast(Palette.TextOn(series), hatch), 4.5, 21);
        }
    }

    // WCAG 2.2, success criterion 1.4.3: 4.5:1. The page's ink and paper, as they are and as it swaps them in the dark.
    [Theory]
    [MemberData(nameof(Series))]
    public void Text_OnAWashedHue_IsLegibleInLightAndDark(int series)
    {
        string wash = Palette.Wash(series, Palette.UnderText);
        Assert.InRange(Luminance.Contrast(Palette.Ink, Luminance.Over(wash, Palette.Paper)), 4.5, 21);
        Assert.InRange(Luminance.Contrast("#ececec", Luminance.Over(wash, "#15171a")), 4.5, 21);
    }

    // Published values: black on white is 21:1; #767676 on white is the lightest grey that reaches 4.5:1 (WCAG 2.2, technique G18, rounded).
    [Theory]
    [InlineData("#000000", "#ffffff", 21, 1e-9)]
    [InlineData("#767676", "#ffffff", 4.54, 0.005)]
    public void Contrast_PublishedPairs_AreReproduced(string one, string other, double expected, double tolerance) =>
        Assert.Equal(expected, Luminance.Contrast(one, other), tolerance);
}
