using System.Diagnostics;
using System.Text.Json;
using PostPipeline.Studies.WhatIfs;
using Xunit;

namespace PostPipeline.Studies.Tests.WhatIfs;

/// <summary>A sweep as people start it, killed without warning and started again.</summary>
public sealed class SweepKillTests : IDisposable
{
    private const int Cells = 400;
    private readonly string folder = Directory.CreateTempSubdirectory("sweep-kill").FullName;

    private string Record => Path.Combine(folder, "cells.csv");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task Sweep_ProcessKilled_GoesOnWithoutComputingARecordedCellAgain()
    {
        string brief = Path.Combine(folder, "brief.yaml");
        await File.WriteAllTextAsync(brief, StudyFixtures.ThreeCameras);
        string[] before;
        using (Process killed = Start(brief))
        {
            Stopwatch waited = Stopwatch.StartNew();
            while (Lines().Length < 12 && !killed.HasExited && waited.Elapsed < TimeSpan.FromMinutes(2))
            {
                await Task.Delay(20);
            }

            killed.Kill();
            await killed.WaitForExitAsync();
            before = Whole();
        }

        Assert.InRange(before.Length - 2, 10, Cells - 1);
        using Process resumed = Start(brief);
        Task<string> notes = resumed.StandardError.ReadToEndAsync();
        string answer = await resumed.StandardOutput.ReadToEndAsync();
        await resumed.WaitForExitAsync();
        Assert.True(resumed.ExitCode == 0, await notes);
        Assert.Contains($"{before.Length - 2} of {Cells} cells stand in the record", await notes, StringComparison.Ordinal);

        // The recorded lines stand where they stood, and every cell stands once: none was computed again.
        string[] after = Whole();
        Assert.Equal(before, after[..before.Length]);
        Assert.Equal(Enumerable.Range(0, Cells), after.Skip(2).Select(l => int.Parse(l.Split(',')[2], System.Globalization.CultureInfo.InvariantCulture)).Order());
        using JsonDocument document = JsonDocument.Parse(answer);
        Assert.Equal(Cells, document.RootElement.GetProperty("result").GetProperty("cells").GetArrayLength());
    }

    // What a kill can lose is what was begun and not yet handed over.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Sweep_Cancelled_HandsOverAllButTheCellsInWork(int threads)
    {
        StudyModel model = new(StudyFixtures.Prepared(StudyFixtures.ThreeCameras));
        Sweep sweep = new(model, [SweepAxis.Parse(model, "farm.nodes.node=1:8:20"), SweepAxis.Parse(model, "edit.lock_slip=0 d:20 d:20")], ["on-time"], 100);
        using CancellationTokenSource cancel = new();
        HashSet<int> done = [];
        int begun = 0;
        int most = 0;
        Assert.Throws<OperationCanceledException>(() => sweep.Run(new HashSet<int>(), cell =>
        {
            Assert.True(done.Add(cell.Number));
            most = Math.Max(most, Volatile.Read(ref begun) - done.Count);
            if (done.Count == 30)
            {
                cancel.Cancel();
            }
        }, threads, _ => Interlocked.Increment(ref begun), cancel.Token));
        Assert.InRange(begun - done.Count, 0, threads);
        Assert.InRange(most, 0, threads);
        Assert.InRange(done.Count, 30, 30 + threads);
    }

    private Process Start(string brief)
    {
        ProcessStartInfo start = new(Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in new[]
        {
            "exec", Path.Combine(AppContext.BaseDirectory, "postpipeline.dll"), "sweep", brief, "--over", "farm.nodes.node=1:8:20", "--over", "edit.lock_slip=0 d:20 d:20",
            "--show", "on-time", "--draws", "500", "--record", Record, "--json", "--data", Path.Combine(folder, "data"),
        })
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }

    private string[] Lines()
    {
        if (!File.Exists(Record))
        {
            return [];
        }

        using FileStream stream = new(Record, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        using StreamReader reader = new(stream);
        return reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    private string[] Whole()
    {
        string text = File.ReadAllText(Record);
        return text[..(text.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }
}
