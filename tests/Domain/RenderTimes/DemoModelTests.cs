using PostPipeline.RenderTimes;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>The model on the invented rows of the demonstration: that it works end to end, not that it is right.</summary>
public class DemoModelTests(DemoModelTests.Trained trained) : IClassFixture<DemoModelTests.Trained>
{
    private static readonly Dictionary<string, string> Mezzanine = new()
    {
        ["gpu"] = "one",
        ["input_coding"] = "raw",
        ["debayer_scale"] = "1",
        ["noise_reduction"] = "none",
        ["output_coding"] = "mezzanine",
        ["cores"] = "32",
        ["clock_ghz"] = "3",
        ["input_width"] = "4096",
        ["input_height"] = "2160",
        ["input_bits_per_pixel"] = "4",
        ["layers"] = "0",
        ["output_width"] = "3840",
        ["output_height"] = "2160",
    };

    [Fact]
    public void Train_DemoRows_BeatsBaselineAndSaysInvented()
    {
        Assert.True(trained.Model.Record.HeldOut.MedianPercent < trained.Model.Record.Baseline.MedianPercent / 2);
        Assert.True(trained.Model.Record.Invented);
        Assert.Equal(14, trained.Model.Record.Families);
    }

    [Fact]
    public void TryPredict_Inside_GivesOrderedBandAndInventedNote()
    {
        Assert.True(trained.Model.TryPredict(Mezzanine, 0.9, out RenderTimeEstimate? estimate, out _));
        Assert.InRange(estimate!.SecondsPerFrame, 0.03, 0.12);
        Assert.True(estimate.Low < estimate.SecondsPerFrame && estimate.SecondsPerFrame < estimate.High);
        Assert.False(estimate.IntervalRefused);
        Assert.False(estimate.OutsideMeasured);
        Assert.Contains("rests on invented rows", estimate.Notes);
    }

    [Fact]
    public void TryPredict_FarLargerRaster_WidensAndSaysSo()
    {
        Dictionary<string, string> large = new(Mezzanine) { ["input_width"] = "16000", ["input_height"] = "8000" };
        trained.Model.TryPredict(Mezzanine, 0.9, out RenderTimeEstimate? inside, out _);
        Assert.True(trained.Model.TryPredict(large, 0.9, out RenderTimeEstimate? outside, out _));
        Assert.True(outside!.OutsideMeasured);
        Assert.Contains(outside.Notes, n => n.StartsWith("input_width is 16000; measured was", StringComparison.Ordinal));
        Assert.True(outside.High / outside.SecondsPerFrame > inside!.High / inside.SecondsPerFrame * 1.2);
        Assert.True(outside.SecondsPerFrame > inside.SecondsPerFrame);
    }

    [Fact]
    public void TryPredict_CombinationNeverMeasured_SaysSo()
    {
        Dictionary<string, string> unmeasured = new(Mezzanine) { ["output_coding"] = "jpeg2000" };
        Assert.True(trained.Model.TryPredict(unmeasured, 0.9, out RenderTimeEstimate? estimate, out _));
        Assert.True(estimate!.OutsideMeasured);
        Assert.Contains(estimate.Notes, n => n.Contains("was not measured", StringComparison.Ordinal));
    }

    [Fact]
    public void TryPredict_99Percent_IsRefusedOn14Families()
    {
        Assert.True(trained.Model.TryPredict(Mezzanine, 0.99, out RenderTimeEstimate? estimate, out _));
        Assert.True(estimate!.IntervalRefused);
        Assert.Contains(estimate.Notes, n => n.Contains("99 are needed", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("output_coding", "hologram", "was never measured")]
    [InlineData("cores", "", "is missing")]
    [InlineData("cores", "many", "is not a finite number")]
    [InlineData("weather", "rain", "no feature of that name")]
    public void TryPredict_WrongFeature_NamesFieldAndWhatIsAllowed(string feature, string value, string expected)
    {
        Dictionary<string, string> wrong = new(Mezzanine) { [feature] = value };
        Assert.False(trained.Model.TryPredict(wrong, 0.9, out _, out RowViolation violation));
        Assert.Equal($"features[{feature}]", violation.Field);
        Assert.Contains(expected, violation.Description, StringComparison.Ordinal);
    }

    [Fact]
    public void Codec_WriteAndRead_PredictsTheSameBits()
    {
        using MemoryStream stream = new();
        RenderTimeModelCodec.Write(trained.Model, stream);
        stream.Position = 0;
        RenderTimeModel again = RenderTimeModelCodec.Read(stream);
        trained.Model.TryPredict(Mezzanine, 0.9, out RenderTimeEstimate? first, out _);
        again.TryPredict(Mezzanine, 0.9, out RenderTimeEstimate? second, out _);
        Assert.Equal(first!.SecondsPerFrame, second!.SecondsPerFrame);
        Assert.Equal(first.High, second.High);
        Assert.Equal(trained.Model.Record.HeldOut, again.Record.HeldOut);
        Assert.Equal(trained.Model.ValidatedDomain, again.ValidatedDomain);
    }

    /// <summary>The demonstration's rows, trained once.</summary>
    public sealed class Trained
    {
        /// <summary>Reads the rows of the repository and trains.</summary>
        public Trained()
        {
            CsvTable csv = CsvTable.Read(Path.Combine(Outside.Root, "notebooks", "data", "demo-benchmarks.csv"));
            string[] categories = ["gpu", "input_coding", "debayer_scale", "noise_reduction", "output_coding"];
            string[] numbers = ["cores", "clock_ghz", "input_width", "input_height", "input_bits_per_pixel", "layers", "output_width", "output_height"];
            string[] columns = ["project", "seconds_per_frame", .. categories, .. numbers];
            BenchmarkTableBuilder builder = new(new([.. columns], "seconds_per_frame", string.Empty, "project", [.. categories], [.. numbers]), invented: true);
            foreach (CsvTable.Row row in csv.Rows)
            {
                Assert.True(builder.Add([.. columns.Select(c => row[c])]), string.Join("; ", builder.Violations));
            }

            Model = RenderTimeTrainer.Train(builder.Build(), seed: 1);
        }

        /// <summary>The model.</summary>
        public RenderTimeModel Model { get; }
    }
}
