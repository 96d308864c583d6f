using System.Globalization;
using System.Text;
using PostPipeline.Quantities;
using PostPipeline.Testing;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

/// <summary>Published values: what several general-purpose libraries agree on, at their own rates and modes.</summary>
public class TimecodeTableTests
{
    // Source: tests/Tables/timecode/timecode_checks.csv. Rule: SMPTE ST 12-1 and ST 12-3; each row names which of
    // libavutil 57, GStreamer 1.22.0, OpenTime 0.19-dev, smpte-timecode 1.3.6, timecode 0.0.4 and timecode-boss 6.2.0 agree.
    [Fact]
    public void FromFramesAndParse_EveryRow_GiveTheTablesLabelAndIndex()
    {
        CsvTable table = CsvTable.Read(Outside.Table("timecode/timecode_checks.csv"));
        Assert.Equal(840, table.Rows.Count);
        foreach (CsvTable.Row row in table.Rows)
        {
            TimecodeFormat format = Format(row["rate_num"], row["rate_den"], row["drop"]);
            string expected = row["timecode_reference"];
            string where = $"{row["rate_label"]}, frame {row["frame_index"]}";
            Assert.True(format.Nominal == Number(row["nominal_fps"]), where);

            Timecode label = Timecode.FromFrames(Number(row["frame_index"]), format);
            Assert.True(expected == label.ToString(), $"{where}: {label}, expected {expected}");
            Assert.True(label.FrameIndex == Number(row["frame_index_mod_day"]), where);

            Assert.Equal(label, Timecode.Parse(expected, format));
            Assert.True(Timecode.TryParse(Encoding.UTF8.GetBytes(expected), format, out Timecode fromBytes, out _));
            Assert.Equal(label, fromBytes);

            byte[] bytes = new byte[format.LabelLength];
            Assert.True(label.TryFormat(bytes, out int written));
            Assert.Equal(expected, Encoding.UTF8.GetString(bytes, 0, written));
        }
    }

    // Source: tests/Tables/timecode/constants.csv, exact arithmetic on SMPTE ST 12-1's counting rule.
    [Fact]
    public void Format_EveryRow_HasTheTablesConstants()
    {
        CsvTable table = CsvTable.Read(Outside.Table("timecode/constants.csv"));
        Assert.Equal(18, table.Rows.Count);
        foreach (CsvTable.Row row in table.Rows)
        {
            string[] rate = row["rate"].Split('/');
            TimecodeFormat format = Format(rate[0], rate[1], row["drop"]);
            Assert.Equal(Number(row["nominal"]), format.Nominal);
            Assert.Equal(Number(row["frames_dropped_per_minute"]), format.DroppedPerMinute);
            Assert.Equal(Number(row["frames_per_10min"]), format.FramesPerTenMinutes);
            Assert.Equal(Number(row["frames_per_hour"]), format.FramesPerHour);
            Assert.Equal(Number(row["frames_per_24h"]), format.FramesPerDay);
            Assert.Equal(Exact(row["real_seconds_per_tc_hour"]), format.SecondsPerLabelHour);
            Assert.Equal(Exact(row["drift_s_per_tc_hour_vs_clock"]), format.DriftPerLabelHour);
            Assert.Equal(Exact(row["drift_s_per_24h_tc"]), format.DriftPerLabelHour * 24);
        }
    }

    internal static TimecodeFormat Format(string numerator, string denominator, string drop) =>
        TimecodeFormat.From(FrameRate.From(Number(numerator), Number(denominator)), drop == "1");

    internal static long Number(string text) => long.Parse(text, CultureInfo.InvariantCulture);

    private static Rational Exact(string text) => Rational.TryParse(text, out Rational value) ? value : throw new FormatException(text);
}
