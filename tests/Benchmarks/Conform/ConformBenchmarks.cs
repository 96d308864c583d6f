using System.Diagnostics;
using System.Globalization;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Benchmarks.Conform;

/// <summary>
/// A cut matched with an inventory, from two files to an answer for every event, beside File.ReadLines over the same
/// two files. Arguments: number of clips and number of events (1000000 100000).
/// </summary>
internal static class ConformBenchmarks
{
    private const int Runs = 5;

    public static int Run(string[] args)
    {
        int mostClips = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 1_000_000;
        int mostEvents = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 100_000;
        string folder = Directory.CreateTempSubdirectory("conform-benchmark-").FullName;
        try
        {
            List<int> sizes = [];
            for (int clips = 1_000; clips < mostClips; clips *= 10)
            {
                sizes.Add(clips);
            }

            sizes.Add(mostClips);

            // The smallest sizes last milliseconds: without this they would show the compiler at work and not the growth.
            (string warmInventory, string warmList) = Write(folder, 5_000, 1_000);
            for (int i = 0; i < 40; i++)
            {
                _ = Conform(warmInventory, warmList);
            }

            foreach (int clips in sizes)
            {
                int events = (int)Math.Max(100, (long)mostEvents * clips / mostClips);
                (string inventory, string list) = Write(folder, clips, events);
                Compare(inventory, list, clips, events);
            }

            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Compare(string inventory, string list, int clips, int events)
    {
        // One run first, so that the working set is that of the conform and not of the strings of ReadLines.
        (ConformResult result, long index) = Conform(inventory, list);
        long peak = Process.GetCurrentProcess().PeakWorkingSet64;
        double[] ours = new double[Runs];
        double[] lines = new double[Runs];
        long characters = 0;
        for (int i = 0; i < Runs; i++)
        {
            // In turns, so that a disturbance meets both.
            long start = Stopwatch.GetTimestamp();
            (result, index) = Conform(inventory, list);
            ours[i] = Stopwatch.GetElapsedTime(start).TotalSeconds;
            start = Stopwatch.GetTimestamp();
            characters = File.ReadLines(inventory).Sum(line => (long)line.Length) + File.ReadLines(list).Sum(line => (long)line.Length);
            lines[i] = Stopwatch.GetElapsedTime(start).TotalSeconds;
        }

        Array.Sort(ours);
        Array.Sort(lines);
        double median = ours[Runs / 2];
        double readLines = lines[Runs / 2];
        long bytes = result.Inventory.MemoryBytes + index;
        Console.WriteLine(
            $"{clips,9:N0} clips, {events,7:N0} events: {median * 1e3,8:F1} ms ({median * 1e9 / clips,6:F0} ns a clip), File.ReadLines {readLines * 1e3,8:F1} ms, "
            + $"ratio {median / readLines,5:F2} (limit 6, aim 4); {(double)bytes / clips:F0} B a clip with its indexes; peak working set {peak / 1e6:F0} MB (limit 1,074)");
        Console.WriteLine(
            $"{string.Empty,9}       matched {result.Count(ConformClass.Matched):N0}, for a person {result.EventsForPerson:N0}, characters read {characters:N0}");
    }

    private static (ConformResult Result, long IndexBytes) Conform(string inventoryFile, string listFile)
    {
        InventoryReading inventory;
        using (FileStream file = new(inventoryFile, FileMode.Open, FileAccess.Read, FileShare.Read, 1))
        {
            inventory = InventoryReader.Read(file);
        }

        EditListReading list = EditListReader.Read(File.ReadAllBytes(listFile));
        CutReading cut = CutBuilder.FromEditList(list.List, FrameRate.Fps24);
        if (inventory.Problems.Length + list.Problems.Length + cut.Problems.Length > 0)
        {
            throw new InvalidOperationException($"The generated files have problems: {inventory.Problems.FirstOrDefault()} {list.Problems.FirstOrDefault()} {cut.Problems.FirstOrDefault()}");
        }

        Conformer conformer = new(inventory.Inventory, new() { HandleFrames = 16 });
        ConformResult result = conformer.Match(cut.Cut);
        return (result, conformer.IndexBytes);
    }

    // Cards of fifty clips, ten cameras, a label day a card: as a year of episodes would leave behind. Nine events in ten carry their clip name.
    private static (string Inventory, string List) Write(string folder, int clips, int events)
    {
        RandomStream random = new(1, RandomPurpose.InventedData);
        string inventory = Path.Combine(folder, "clips.csv");
        TimecodeFormat format = TimecodeFormat.Fps24;
        using (StreamWriter writer = new(inventory))
        {
            writer.Write("name,reel,start,frames,rate,kind,camera,date,bytes,medium,trimmable,sensor_rate\n");
            for (int i = 0; i < clips; i++)
            {
                (string name, string reel, long start) = Clip(i);
                int day = i / 2_000;
                writer.Write(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{name}.mov,{reel},{Timecode.FromFrames(start, format)},{FramesOf(i)},24,original,{reel[0]},{new DateOnly(2031, 1, 1).AddDays(day % 3_000):yyyy-MM-dd},{FramesOf(i) * 4_423_680L},TAPE{day % 400:D3},yes,24\n"));
            }
        }

        string list = Path.Combine(folder, "cut.edl");
        using (StreamWriter writer = new(list))
        {
            writer.Write("TITLE: BENCHMARK\r\nFCM: NON-DROP FRAME\r\n");
            long record = 0;
            for (int i = 0; i < events; i++)
            {
                int clip = random.NextBelow(clips);
                (string name, string reel, long start) = Clip(clip);
                long length = 12 + random.NextBelow(100);
                long from = start + 16 + random.NextBelow((int)(FramesOf(clip) - length - 32));
                writer.Write(
                    $"{(i % 999) + 1:D3}  {reel,-8} V     C        {Timecode.FromFrames(from, format)} {Timecode.FromFrames(from + length, format)} {Timecode.FromFrames(record, format)} {Timecode.FromFrames(record + length, format)}\r\n");
                if (i % 10 != 0)
                {
                    writer.Write($"* FROM CLIP NAME: {name}\r\n");
                }

                record = (record + length) % format.FramesPerDay;
            }
        }

        return (inventory, list);
    }

    private static (string Name, string Reel, long Start) Clip(int i)
    {
        int card = i / 50;
        string reel = $"{(char)('A' + (card % 10))}{card / 10:D5}";
        return ($"{reel}_C{(i % 50) + 1:D4}", reel, 600_000 + ((i % 50) * 3_000L));
    }

    private static long FramesOf(int i) => 400 + (i * 37L % 2_000);
}
