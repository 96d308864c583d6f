using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using PostPipeline.Footage.Codings;
using PostPipeline.Quantities;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

/// <summary>
/// Predicted frame sizes against pictures encoded here by ffmpeg, where it is installed: equal for fixed-size codings,
/// inside the range for variable ones. Encoders are asked for by the standard they implement.
/// </summary>
public partial class EncoderTests
{
    // Uncompressed planes and packings, image files of SMPTE ST 268 and OpenEXR scan lines: every one that ffmpeg writes.
    // Odd sides and sides that fill no group, where it takes them. Headers are those that its writers put down.
    [SkippableTheory]
    [InlineData("uncompressed-400-8", "rawvideo", "gray", "", 642, 362)]
    [InlineData("uncompressed-400-10-in-16", "rawvideo", "gray10le", "", 641, 361)]
    [InlineData("uncompressed-400-12-in-16", "rawvideo", "gray12le", "", 641, 361)]
    [InlineData("uncompressed-400-16", "rawvideo", "gray16le", "", 641, 361)]
    [InlineData("uncompressed-420-8", "rawvideo", "yuv420p", "", 1998, 1080)]
    [InlineData("uncompressed-420-8", "rawvideo", "yuv420p", "", 641, 361)]
    [InlineData("uncompressed-420-10-in-16", "rawvideo", "yuv420p10le", "", 641, 361)]
    [InlineData("uncompressed-420-12-in-16", "rawvideo", "yuv420p12le", "", 641, 361)]
    [InlineData("uncompressed-420-16", "rawvideo", "yuv420p16le", "", 641, 361)]
    [InlineData("uncompressed-411-8", "rawvideo", "yuv411p", "", 720, 480)]
    [InlineData("uncompressed-411-8", "rawvideo", "yuv411p", "", 643, 361)]
    [InlineData("uncompressed-422-8", "rawvideo", "yuv422p", "", 641, 361)]
    [InlineData("uncompressed-422-10-in-16", "rawvideo", "yuv422p10le", "", 2048, 858)]
    [InlineData("uncompressed-422-12-in-16", "rawvideo", "yuv422p12le", "", 641, 361)]
    [InlineData("uncompressed-422-16", "rawvideo", "yuv422p16le", "", 641, 361)]
    [InlineData("uncompressed-444-8", "rawvideo", "yuv444p", "", 641, 361)]
    [InlineData("uncompressed-444-8", "rawvideo", "rgb24", "", 641, 361)]
    [InlineData("uncompressed-444-10-in-16", "rawvideo", "gbrp10le", "", 641, 361)]
    [InlineData("uncompressed-444-12-in-16", "rawvideo", "yuv444p12le", "", 641, 361)]
    [InlineData("uncompressed-444-16", "rawvideo", "rgb48le", "", 641, 361)]
    [InlineData("uncompressed-422-8-alpha", "rawvideo", "yuva422p", "", 641, 361)]
    [InlineData("uncompressed-422-10-alpha-in-16", "rawvideo", "yuva422p10le", "", 641, 361)]
    [InlineData("uncompressed-422-12-alpha-in-16", "rawvideo", "yuva422p12le", "", 641, 361)]
    [InlineData("uncompressed-422-16-alpha", "rawvideo", "yuva422p16le", "", 641, 361)]
    [InlineData("uncompressed-444-8-alpha", "rawvideo", "rgba", "", 641, 361)]
    [InlineData("uncompressed-444-10-alpha-in-16", "rawvideo", "yuva444p10le", "", 641, 361)]
    [InlineData("uncompressed-444-12-alpha-in-16", "rawvideo", "yuva444p12le", "", 641, 361)]
    [InlineData("uncompressed-444-16-alpha", "rawvideo", "rgba64le", "", 640, 360)]
    [InlineData("uncompressed-422-10-groups-128", "v210", "yuv422p10le", "", 1602, 900)]
    [InlineData("uncompressed-444-10-in-32", "rawvideo", "x2rgb10le", "", 641, 361)]
    [InlineData("st268-400-16", "dpx", "gray16be", "1664", 1280, 720)]
    [InlineData("st268-444-8", "dpx", "rgb24", "1664", 1280, 720)]
    [InlineData("st268-444-8-alpha", "dpx", "rgba", "1664", 1280, 720)]
    [InlineData("st268-444-10", "dpx", "gbrp10be", "1664", 1280, 720)]
    [InlineData("st268-444-12", "dpx", "gbrp12be", "1664", 1280, 720)]
    [InlineData("st268-444-16", "dpx", "rgb48be", "1664", 1280, 720)]
    [InlineData("st268-444-16-alpha", "dpx", "rgba64be", "1664", 1280, 720)]
    [InlineData("openexr-half-y", "exr", "grayf32le", "356", 1600, 900, "-format half -compression none")]
    [InlineData("openexr-half-y", "exr", "grayf32le", "356", 641, 361, "-format half -compression none")]
    [InlineData("openexr-half-rgb", "exr", "gbrpf32le", "392", 1600, 900, "-format half -compression none")]
    [InlineData("openexr-half-rgb", "exr", "gbrpf32le", "392", 641, 361, "-format half -compression none")]
    [InlineData("openexr-half-rgba", "exr", "gbrapf32le", "410", 1600, 900, "-format half -compression none")]
    [InlineData("openexr-half-rgba", "exr", "gbrapf32le", "410", 641, 361, "-format half -compression none")]
    [InlineData("openexr-float-y", "exr", "grayf32le", "356", 1600, 900, "-format float -compression none")]
    [InlineData("openexr-float-y", "exr", "grayf32le", "356", 641, 361, "-format float -compression none")]
    [InlineData("openexr-float-rgb", "exr", "gbrpf32le", "392", 1600, 900, "-format float -compression none")]
    [InlineData("openexr-float-rgb", "exr", "gbrpf32le", "392", 641, 361, "-format float -compression none")]
    [InlineData("openexr-float-rgba", "exr", "gbrapf32le", "410", 1600, 900, "-format float -compression none")]
    [InlineData("openexr-float-rgba", "exr", "gbrapf32le", "410", 641, 361, "-format float -compression none")]
    public void BytesPerFrame_FixedSize_EqualsWhatIsEncoded(string id, string encoder, string format, string header, int width, int height, string options = "")
    {
        CodingDefinition definition = CodingCatalogue.Standard.Find(id).Definition;
        Coding coding = Coding.From(header.Length == 0 ? definition : definition with { HeaderBytes = long.Parse(header, CultureInfo.InvariantCulture) });
        foreach (long bytes in Encode(width, height, "testsrc2", format, $"-c:v {encoder} {options}", 2))
        {
            Assert.Equal(coding.BytesPerFrame(Raster.From(width, height), FrameRate.Fps24).Average, bytes);
        }
    }

    // SMPTE ST 2019-1 by compression ID and by class.
    [SkippableTheory]
    [InlineData("vc3-1235", "yuv422p10le", "-b:v 175M", 1920, 1080)]
    [InlineData("vc3-1237", "yuv422p", "-b:v 115M", 1920, 1080)]
    [InlineData("vc3-1238", "yuv422p", "-b:v 175M", 1920, 1080)]
    [InlineData("vc3-1241", "yuv422p10le", "-b:v 220M -r 30000/1001 -flags ildct", 1920, 1080)]
    [InlineData("vc3-1242", "yuv422p", "-b:v 145M -r 30000/1001 -flags ildct", 1920, 1080)]
    [InlineData("vc3-1243", "yuv422p", "-b:v 220M -r 30000/1001 -flags ildct", 1920, 1080)]
    [InlineData("vc3-1244", "yuv422p", "-b:v 145M -r 30000/1001 -flags ildct", 1440, 1080)]
    [InlineData("vc3-1250", "yuv422p10le", "-b:v 90M", 1280, 720)]
    [InlineData("vc3-1251", "yuv422p", "-b:v 90M", 1280, 720)]
    [InlineData("vc3-1252", "yuv422p", "-b:v 60M", 1280, 720)]
    [InlineData("vc3-1253", "yuv422p", "-b:v 36M", 1920, 1080)]
    [InlineData("vc3-1258", "yuv422p", "-b:v 42M", 960, 720)]
    [InlineData("vc3-1259", "yuv422p", "-b:v 63M", 1440, 1080)]
    [InlineData("vc3-class-low", "yuv422p", "-profile:v 1", 1600, 900)]
    [InlineData("vc3-class-standard", "yuv422p", "-profile:v 2", 1601, 901)]
    [InlineData("vc3-class-high", "yuv422p", "-profile:v 3", 1440, 810)]
    [InlineData("vc3-class-high-10", "yuv422p10le", "-profile:v 4", 1600, 900)]
    [InlineData("vc3-class-full", "yuv444p10le", "-profile:v 5", 1600, 900)]
    public void BytesPerFrame_St2019_EqualsWhatIsEncoded(string id, string format, string options, int width, int height)
    {
        string encoder = EncoderOf(St2019());
        foreach (long bytes in Encode(width, height, "testsrc2", format, $"-c:v {encoder} {options}", 2))
        {
            Assert.Equal(CodingCatalogue.Standard.Find(id).BytesPerFrame(Raster.From(width, height), FrameRate.Fps24).Average, bytes);
        }
    }

    [SkippableTheory]
    [InlineData("ffv1-422-10", "-c:v ffv1 -level 3", "yuv422p10le", 1280, 720)]
    [InlineData("ffv1-444-12", "-c:v ffv1 -level 3", "gbrp12le", 1280, 720)]
    [InlineData("h264-intra-422-10-qp20", "-c:v libx264 -qp 20 -g 1", "yuv422p10le", 1280, 720)]
    [InlineData("openexr-half-rgb-zip16", "-c:v exr -format half -compression zip16", "gbrpf32le", 1280, 720)]
    public void BytesPerFrame_Variable_HoldsWhatIsEncoded(string id, string options, string format, int width, int height) =>
        HoldsEveryPicture(id, options, format, width, height);

    // SMPTE RDD 36, profiles by index.
    [SkippableTheory]
    [InlineData(0, "yuv422p10le")]
    [InlineData(1, "yuv422p10le")]
    [InlineData(2, "yuv422p10le")]
    [InlineData(3, "yuv422p10le")]
    [InlineData(4, "yuv444p10le")]
    public void BytesPerFrame_Rdd36_HoldsWhatIsEncoded(int profile, string format) =>
        HoldsEveryPicture($"rdd36-{profile}", $"-c:v {EncoderOf(Rdd36())} -profile:v {profile}", format, 1600, 900);

    private static void HoldsEveryPicture(string id, string options, string format, int width, int height)
    {
        FrameBytes predicted = CodingCatalogue.Standard.Find(id).BytesPerFrame(Raster.From(width, height), FrameRate.Fps24);
        foreach (string picture in (string[])["color=black", "testsrc2", "mandelbrot"])
        {
            Assert.All(Encode(width, height, picture, format, options, 1), b => Assert.InRange(b, predicted.Low, predicted.Peak));
        }
    }

    private static List<long> Encode(int width, int height, string picture, string format, string options, int frames)
    {
        string separator = picture.Contains('=', StringComparison.Ordinal) ? ":" : "=";
        string text = Run($"-v error -f lavfi -i {picture}{separator}s={width}x{height}:r=24 -frames:v {frames} -vf scale={width}:{height},format={format} {options} -f framecrc -");
        List<long> sizes = [.. text.Split('\n').Where(l => l.Length > 0 && l[0] != '#').Select(l => long.Parse(l.Split(',')[4], CultureInfo.InvariantCulture))];
        Assert.Equal(frames, sizes.Count);
        return sizes;
    }

    private static string EncoderOf(Regex line)
    {
        Match match = line.Match(Run("-hide_banner -encoders"));
        Outside.Need(match.Success, "ffmpeg here has no encoder for this standard");
        return match.Groups[1].Value;
    }

    private static string Run(string arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(Outside.Program("ffmpeg"), arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"ffmpeg {arguments}: {errors.Result}");
        return text;
    }

    [GeneratedRegex(@"^ V\S+ (\S+)\s+VC3", RegexOptions.Multiline)]
    private static partial Regex St2019();

    // ffmpeg has three encoders of this standard; the one that takes every profile by index ends in _ks.
    [GeneratedRegex(@"^ VFS\.\.\. (\S+_ks)\s", RegexOptions.Multiline)]
    private static partial Regex Rdd36();
}
