using System.Diagnostics;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using PostPipeline.Testing;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.ConformSamples;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>Files that are there against files that were planned.</summary>
public abstract class MediaCheckContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    // Clips made by ffmpeg with a timecode track (Debian's ffmpeg 5.1.9): what ffprobe says of them is the outside answer.
    [SkippableFact]
    public async Task CheckMedia_FolderMadeByFfmpeg_IsComparedWithThePlan()
    {
        string ffmpeg = Outside.Program("ffmpeg");
        _ = Outside.Program("ffprobe");
        string folder = Directory.CreateTempSubdirectory("media-check-").FullName;
        try
        {
            Directory.CreateDirectory(Path.Combine(folder, "o"));
            Directory.CreateDirectory(Path.Combine(folder, "p"));
            await MakeAsync(ffmpeg, Path.Combine(folder, "o", "A001C001.mov"), "24", "320x240", 48, "10:00:00:00");
            await MakeAsync(ffmpeg, Path.Combine(folder, "o", "A001C002.mov"), "24", "320x240", 30, "10:01:00:00");
            await MakeAsync(ffmpeg, Path.Combine(folder, "o", "A001C004.mov"), "30000/1001", "160x120", 30, "10:02:00;02");
            await MakeAsync(ffmpeg, Path.Combine(folder, "p", "A001C001_PX.mov"), "24", "160x120", 48, "10:00:00:00");
            (string rows, IReadOnlyList<(string Path, long Bytes)> files) = await MediaFolder.ListAsync(Path.Combine(folder, "o"), "original", _ => { });
            (string proxies, _) = await MediaFolder.ListAsync(Path.Combine(folder, "p"), "proxy", _ => { });
            Assert.Equal(3, files.Count);
            Assert.Contains("A001C004.mov,10:02:00;02,30,30000/1001,yes,original,", rows, StringComparison.Ordinal);

            string plan = "name,start,frames,rate,width,height\nA001C001,10:00:00:00,48,24,320,240\nA001C002,10:01:00:00,31,24,320,240\nA001C003,10:01:30:00,31,24,320,240\nA001C004,10:02:00;02,30,30000/1001,320,240\n";
            string manifest = "d41d8cd98f00b204e9800998ecf8427e  A001C001.mov\nd41d8cd98f00b204e9800998ecf8427e  A001C003.mov\n";
            CheckMediaResponse answer = await new ConformCalls(Clients.Conform).CheckMediaAsync(
                new() { ProxiesExpected = Verdict.Fail },
                Bytes(MediaFolder.Header + rows + proxies),
                Bytes(plan),
                Bytes(manifest),
                [.. files.Select(f => new FoundFile { Path = f.Path, SizeBytes = f.Bytes })]);
            Assert.Empty(answer.Problems);
            Assert.Equal((4, 4, 1), (answer.PlannedClips, answer.FoundClips, answer.AsPlanned));
            Assert.Equal(
                [("frames", "A001C002"), ("missing", "A001C003"), ("numbering", "A001C003"), ("raster", "A001C004"), ("unplanned", "A001C001_PX.mov")],
                answer.Findings.Select(f => (f.Name, f.Clip)).Order());
            Assert.Equal(["A001C003.mov"], answer.Manifest.Missing);
            Assert.False(answer.Manifest.Complete);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task MakeAsync(string ffmpeg, string path, string rate, string size, int frames, string label)
    {
        ProcessStartInfo start = new(ffmpeg) { RedirectStandardError = true };
        foreach (string argument in (string[])["-v", "error", "-y", "-f", "lavfi", "-i", $"testsrc=size={size}:rate={rate}", "-frames:v", $"{frames}", "-timecode", label, "-c:v", "mpeg4", path])
        {
            start.ArgumentList.Add(argument);
        }

        using Process process = Process.Start(start)!;
        string errors = await process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, errors);
    }
}

public sealed class EmbeddedMediaCheckTests : MediaCheckContract<EmbeddedTransport>;

public sealed class NetworkMediaCheckTests : MediaCheckContract<KestrelTransport>;
