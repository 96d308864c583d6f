using NodaTime;
using PostPipeline.Quantities;
using PostPipeline.Studies.Briefs;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Briefs;

public sealed class BriefReaderTests
{
    [Fact]
    public void Read_EightAnswers_IsValidAndMarksTheRestAsInvented()
    {
        Brief brief = BriefReader.Read("b.yaml", BriefSamples.EightAnswers);
        Assert.Equal(25, brief.Shoot.Days);
        Assert.Equal(3, brief.Shoot.Cameras.Count);
        Assert.Equal(["A", "B", "C"], brief.Shoot.Cameras.Select(c => c.Letter));
        Assert.True(brief.Shoot.StartsIsInvented);
        Assert.Equal(["native", "transcode", "proxy"], brief.Pipelines);
        Assert.Equal(Known.Guessed, brief.Input("shoot.hours_per_day").Known);
        Assert.All(brief.Inputs.Where(i => i.Key != "shoot.hours_per_day"), i => Assert.Equal(Known.Invented, i.Known));
        Assert.True(brief.Shoot.Starts.PlusDays(25) < brief.Edit.Lock);
    }

    [Fact]
    public void Read_DemoBrief_IsValid()
    {
        Brief brief = BriefReader.ReadFile(Path.Combine(Outside.Root, "notebooks", "demo", "brief.yaml"));
        Assert.Equal(40, brief.Shoot.Days);
        Assert.Equal(new LocalDate(2027, 4, 16), brief.Deliver.Due);
        Assert.Equal("second", brief.Shoot.Cameras[2].Unit);
        Estimate hours = brief.Input("shoot.cameras[0].recordings[0].hours_per_day");
        Assert.Equal((1.6, 2.4, 3.3, "shooting pace", 0.8), (hours.Low, hours.Likely, hours.High, hours.Factor, hours.Weight));
        Assert.Equal(39, brief.Shoot.Dates().Count(d => d != new LocalDate(2026, 10, 26)) - 1);
    }

    [Theory]
    [InlineData("commercial")]
    [InlineData("feature")]
    [InlineData("episodic")]
    [InlineData("documentary")]
    [InlineData("multicam")]
    [InlineData("wildlife")]
    public void Read_EveryProduction_HasDefaultsInOrder(string production)
    {
        Brief brief = BriefReader.Read("b.yaml", BriefSamples.EightAnswers.Replace("documentary", production, StringComparison.Ordinal).Replace("  hours_per_day: 2.5 h\n", string.Empty, StringComparison.Ordinal));
        Assert.All(brief.Inputs, i => Assert.True(i.Low <= i.Likely && i.Likely <= i.High && i.Minimum <= i.Low && i.High <= i.Maximum, i.Key));
    }

    [Fact]
    public void Read_Unknown_WidensTheDefaultAndSaysSo()
    {
        Brief brief = BriefReader.Read("b.yaml", BriefSamples.EightAnswers + "\nfinish:\n  grade: unknown\n");
        Brief silent = BriefReader.Read("b.yaml", BriefSamples.EightAnswers);
        Assert.True(brief.Input("finish.grade").IsUnknown);
        Assert.True(brief.Input("finish.grade").Low < silent.Input("finish.grade").Low);
        Assert.True(brief.Input("finish.grade").High > silent.Input("finish.grade").High);
    }

    [Theory]
    [InlineData("  days: 25", "  dayz: 25", "shoot.dayz", "did you mean 'days'?")]
    [InlineData("production: documentary", "production: documentery", "production", "did you mean 'documentary'?")]
    [InlineData("  hours_per_day: 2.5 h", "  hours_per_day: -2.5 h", "shoot.hours_per_day", "negative")]
    [InlineData("  hours_per_day: 2.5 h", "  hours_per_day: 2.5", "shoot.hours_per_day", "not a length of time")]
    [InlineData("  hours_per_day: 2.5 h", "  hours_per_day: 25 h", "shoot.hours_per_day", "out of range")]
    [InlineData("  hours_per_day: 2.5 h", "  hours_per_day: {low: 3 h, likely: 2 h, high: 4 h}", "shoot.hours_per_day", "low ≤ likely ≤ high")]
    [InlineData("  hours_per_day: 2.5 h", "  hours_per_day: {low: 1 h, likly: 2 h, high: 4 h}", "shoot.hours_per_day.likly", "did you mean 'likely'?")]
    [InlineData("  days: 25", "  days: 0", "shoot.days", "whole number from 1 to 366")]
    [InlineData("  days: 25", "  days: 367", "shoot.days", "whole number from 1 to 366")]
    [InlineData("  cameras: 3", "  cameras: 0", "shoot.cameras", "whole number from 1 to 100")]
    [InlineData("  due: 2027-05-03", "  due: 2026-01-01", "deliver.due", "before the shoot starts")]
    [InlineData("  due: 2027-05-03", "  due: 2027-02-30", "deliver.due", "a date such as")]
    [InlineData("  raster: 3840x2160", "  raster: 3840", "deliver.raster", "a raster such as")]
    [InlineData("brief: 1", "brief: 2", "brief", "from 1 to 1")]
    public void Read_WrongValue_NamesKeyAndWhatIsAllowed(string from, string to, string key, string says)
    {
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", BriefSamples.EightAnswers.Replace(from, to, StringComparison.Ordinal)));
        BriefProblem problem = Assert.Single(error.Problems, p => p.Key == key);
        Assert.Contains(says, problem.Message, StringComparison.Ordinal);
        Assert.True(problem.Line > 0 && problem.Column > 0);
    }

    [Theory]
    [InlineData("0/1")]
    [InlineData("24/0")]
    [InlineData("23.976")]
    [InlineData("-24")]
    public void Read_FrameRateThatIsNone_IsRefused(string rate)
    {
        string text = BriefSamples.EightAnswers + $"\nmodes:\n  - name: main\n    frame_rate: {rate}\n";
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", text));
        Assert.Contains(error.Problems, p => p.Key == "modes[0].frame_rate" && p.Line == 15 && p.Value == rate);
    }

    [Fact]
    public void Read_EveryProblem_IsCollected()
    {
        string text = BriefSamples.EightAnswers.Replace("days: 25", "days: many", StringComparison.Ordinal).Replace("110 min", "110", StringComparison.Ordinal)
            + "\nfarm:\n  open: 25:00\n  nodez: 4\n";
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", text));
        Assert.Equal(["shoot.days", "edit.finished", "farm.open", "farm.nodez"], error.Problems.Select(p => p.Key));
    }

    [Fact]
    public void Read_DuplicateKey_NamesBothLines()
    {
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", BriefSamples.EightAnswers + "\nbrief: 1\n"));
        Assert.Contains(error.Problems, p => p.Key == "brief" && p.Line == 13 && p.Message.Contains("first on line 1", StringComparison.Ordinal));
    }

    [Fact]
    public void Read_AliasBomb_IsRefusedAtTheFirstAnchor()
    {
        string bomb = "a: &a [x, x, x, x, x, x, x, x, x]\n" + string.Concat(Enumerable.Range(0, 30).Select(i =>
            $"{(char)('b' + (i % 20))}{i}: &n{i} [*a, *a, *a, *a, *a, *a, *a, *a, *a]\n"));
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", bomb));
        Assert.Contains("anchors are not allowed", Assert.Single(error.Problems).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_DeepNesting_IsRefused()
    {
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", "brief: " + new string('[', 50_000)));
        Assert.Contains("nested more than", Assert.Single(error.Problems).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_HugeTake_NamesFramesAndWhatIsAllowed()
    {
        // 24 h at 1,000,000 frames a second would be 8.6·10¹⁰ frames.
        string text = BriefSamples.EightAnswers.Replace("  cameras: 3", "  cameras:\n    - letter: A\n      recordings: [{mode: main, take: 1 d}]", StringComparison.Ordinal)
            + "\nmodes:\n  - name: main\n    sensor_rate: 1000000\n";
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", text));
        Assert.Contains(error.Problems, p => p.Message.Contains("frames; allowed is", StringComparison.Ordinal));
    }

    [Fact]
    public void Read_BytesBeyond64Bits_AreRefused()
    {
        string text = BriefSamples.EightAnswers.Replace("cameras: 3", "cameras: 100", StringComparison.Ordinal).Replace("2.5 h", "24 h", StringComparison.Ordinal).Replace("days: 25", "days: 366", StringComparison.Ordinal)
            + "\nmodes:\n  - name: main\n    raster: 65535x65535\n    bits_per_pixel: 128\n    sensor_rate: 900\n";
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", text));
        Assert.Contains(error.Problems, p => p.Message.Contains("9.2 EB", StringComparison.Ordinal));
        error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", BriefSamples.EightAnswers + "\ncards: [{size: 10000000 PB}]\n"));
        Assert.Contains(error.Problems, p => p.Key == "cards[0].size" && p.Message.Contains("9.2 EB", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("shoot:\n  days: 25", "shoot:\n  days_off: [monday, tuesday, wednesday, thursday, friday, saturday, sunday]\n  days: 25", "no working day")]
    [InlineData("  cameras: 3", "  cameras: [{letter: A}, {letter: a}]", "stands twice")]
    [InlineData("  cameras: 3", "  cameras: [{letter: A, unit: third}]", "no unit has this name")]
    [InlineData("  cameras: 3", "  cameras: [{letter: A, recordings: [{mode: fast}]}]", "there is none of this name")]
    [InlineData("  lock: 2027-03-01", "  lock: 2027-06-01", "due before the lock")]
    public void Read_WhatDoesNotFitTogether_IsRefused(string from, string to, string says)
    {
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", BriefSamples.EightAnswers.Replace(from, to, StringComparison.Ordinal)));
        Assert.Contains(error.Problems, p => p.Message.Contains(says, StringComparison.Ordinal));
    }

    [Fact]
    public void Read_OneFactorWithTwoWeights_IsRefused()
    {
        string text = BriefSamples.EightAnswers + """

            caches: {low: 0.1, likely: 0.2, high: 0.3, factor: {name: pace, weight: 0.5}}
            selects: {low: 0.1, likely: 0.2, high: 0.3, factor: {name: pace, weight: 0.8}}
            """;
        BriefException error = Assert.Throws<BriefException>(() => BriefReader.Read("b.yaml", text));
        Assert.Contains("one factor has one weight", Assert.Single(error.Problems).Message, StringComparison.Ordinal);
    }
}
