using System.Diagnostics;
using System.Globalization;
using PostPipeline.Studies;
using PostPipeline.Studies.WhatIfs;

namespace PostPipeline.Benchmarks.Studies;

/// <summary>
/// A sweep of the demonstration at full size in a process of its own: 100 × 100 cells of 1,000 draws with a record, killed
/// without warning on the way and started again, and what that costs and loses.
/// </summary>
internal static class SweepBenchmark
{
    /// <summary>The word by which the benchmark starts itself as the process that is killed.</summary>
    public const string ChildWord = "sweep-process";

    private const double KilledAt = 0.4;
    private const string Begun = "begun ";

    public static int Run(string folder, Func<string, StudyModel> model, int side, int draws)
    {
        string record = Path.Combine(folder, "cells.csv");
        (HashSet<int> first, double firstSeconds) = Child(folder, record, side, draws, killAfter: (int)(KilledAt * side * side));
        HashSet<int> recorded = Recorded(record);
        int lost = first.Count(n => !recorded.Contains(n));
        Console.WriteLine(FormattableString.Invariant($"sweep {side} × {side}, {draws} draws a cell, 2 threads: killed after {recorded.Count} recorded cells, {firstSeconds:F1} s; {lost} begun cells lost"));
        (HashSet<int> second, double secondSeconds) = Child(folder, record, side, draws, killAfter: int.MaxValue);
        int again = second.Count(recorded.Contains);
        HashSet<int> all = Recorded(record);
        Console.WriteLine(FormattableString.Invariant($"  resumed: {second.Count} cells in {secondSeconds:F1} s, preparing included; {again} recorded cells computed again; {all.Count} of {side * side} cells stand in the record"));
        Console.WriteLine(FormattableString.Invariant($"  a cell: {(firstSeconds + secondSeconds) * 1000 / (recorded.Count + second.Count):F2} ms on the clock over both"));
        Cancel(model(string.Empty), side, draws);
        return again == 0 && lost <= 2 && all.Count == side * side ? 0 : 1;
    }

    /// <summary>The process that is killed: says on its output which cell it begins.</summary>
    public static int Child(Func<string, StudyModel> model, string record, int side, int draws)
    {
        StudyModel demo = model(string.Empty);
        Sweep sweep = Grid(demo, side, draws);
        using SweepRecord open = SweepRecord.Open(record, sweep, demo.Pipelines);
        Lock gate = new();
        sweep.Run(open.Recorded.Keys.ToHashSet(), open.Add, 2, number =>
        {
            lock (gate)
            {
                Console.Out.WriteLine(Begun + number.ToString(CultureInfo.InvariantCulture));
                Console.Out.Flush();
            }
        });
        return 0;
    }

    private static Sweep Grid(StudyModel model, int side, int draws) => new(
        model,
        [SweepAxis.Parse(model, $"farm.nodes.tall=1:12:{side}"), SweepAxis.Parse(model, $"edit.lock_slip=0 d:40 d:{side}")],
        ["delivery-p90", "on-time", "cost-p50"],
        draws);

    private static (HashSet<int> Begun, double Seconds) Child(string folder, string record, int side, int draws, int killAfter)
    {
        string[] arguments = ["studies", ChildWord, folder, record, $"{side}", $"{draws}"];
        string program = Environment.ProcessPath!;
        ProcessStartInfo start = Path.GetFileNameWithoutExtension(program) == "dotnet"
            ? new(program, ["exec", typeof(SweepBenchmark).Assembly.Location, .. arguments])
            : new(program, arguments);
        start.RedirectStandardOutput = true;
        long from = Stopwatch.GetTimestamp();
        using Process child = Process.Start(start)!;
        HashSet<int> begun = [];
        while (child.StandardOutput.ReadLine() is { } line)
        {
            if (line.StartsWith(Begun, StringComparison.Ordinal))
            {
                begun.Add(int.Parse(line[Begun.Length..], CultureInfo.InvariantCulture));
                if (begun.Count == killAfter)
                {
                    child.Kill();
                }
            }
        }

        child.WaitForExit();
        return (begun, Stopwatch.GetElapsedTime(from).TotalSeconds);
    }

    // Whole lines only: a line that the kill cut off does not count.
    private static HashSet<int> Recorded(string record)
    {
        string text = File.ReadAllText(record);
        return [.. text[..(text.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).Select(l => int.Parse(l.Split(',')[2], CultureInfo.InvariantCulture))];
    }

    private static void Cancel(StudyModel model, int side, int draws)
    {
        using CancellationTokenSource cancel = new();
        int done = 0;
        long at = 0;
        try
        {
            Grid(model, side, draws).Run(new HashSet<int>(), _ =>
            {
                if (++done == 50)
                {
                    at = Stopwatch.GetTimestamp();
                    cancel.Cancel();
                }
            }, 2, cancellation: cancel.Token);
        }
        catch (OperationCanceledException)
        {
            Console.WriteLine(FormattableString.Invariant($"  cancelled: ended {Stopwatch.GetElapsedTime(at).TotalMilliseconds:F1} ms later, {done} cells handed over"));
        }
    }
}
