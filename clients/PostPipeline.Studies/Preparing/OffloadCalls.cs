using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Preparing;

/// <summary>Asks for each unit's days of offload, card by card, at several multiples of the planned material.</summary>
internal sealed class OffloadCalls(SuiteClients services)
{
    // A message stays below the limit of 3 MB at about 40 bytes a take and as much again in the answer.
    private const int TakesInAMessage = 15_000;
    private static readonly double[] Levels = [0.25, 0.6, 1, 1.5, 2.2];

    public async Task<OffloadFacts> SimulateAsync(Brief brief, IReadOnlyList<PlannedTake> takes, IReadOnlyList<RecordingFacts> recordings, int stations, CancellationToken cancellation)
    {
        int units = brief.Shoot.Units.Count;
        double[][][] ends = [.. Enumerable.Range(0, units).Select(_ => Enumerable.Range(0, brief.Shoot.Days).Select(_ => Enumerable.Repeat(double.NaN, Levels.Length).ToArray()).ToArray())];
        int[][] cards = [.. Enumerable.Range(0, units).Select(_ => new int[brief.Shoot.Days])];
        double[] load = new double[units];
        double[][] byLevel = [.. brief.Shoot.Cameras.Select(_ => new double[Levels.Length])];
        string link = string.Empty;
        Dictionary<(int, int), RecordingFacts> facts = recordings.ToDictionary(r => (r.Camera, r.Recording));
        for (int unit = 0; unit < units; unit++)
        {
            ShootUnit plan = brief.Shoot.Units[unit];
            int[] cameras = [.. brief.Shoot.Cameras.Select((c, i) => (c, i)).Where(p => p.c.Unit == plan.Name).Select(p => p.i)];
            if (cameras.Length == 0)
            {
                continue;
            }

            ILookup<int, PlannedTake> byDay = takes.Where(t => cameras.Contains(t.Camera)).ToLookup(t => t.Day);
            SimulateDaysRequest request = new() { Means = Means(brief, cameras, stations) };
            List<(int Day, int Level)> asked = [];
            int inMessage = 0;
            for (int day = plan.FirstDay - 1; day < plan.FirstDay - 1 + plan.Days; day++)
            {
                for (int level = 0; level < Levels.Length; level++)
                {
                    request.Days.Add(Day(brief, plan, cameras, byDay[day], day, Levels[level], facts));
                    asked.Add((day, level));
                    inMessage += byDay[day].Count();
                }

                if (inMessage < TakesInAMessage && request.Days.Count < 300 && day < plan.FirstDay - 2 + plan.Days)
                {
                    continue;
                }

                SimulateDaysResponse response = await services.Offload.SimulateDaysAsync(request, cancellationToken: cancellation).ConfigureAwait(false);
                for (int i = 0; i < asked.Count; i++)
                {
                    DayOffload answer = response.Results[i].Offload ?? throw Wire.Refused(response.Results[i].Label, response.Results[i].Error);
                    ends[unit][asked[i].Day][asked[i].Level] = answer.EndSeconds;
                    foreach (CardsInRotation camera in answer.Rotation)
                    {
                        int place = cameras.First(c => brief.Shoot.Cameras[c].Letter == camera.Camera);
                        byLevel[place][asked[i].Level] = Math.Max(byLevel[place][asked[i].Level], camera.WithSpares);
                    }

                    if (Levels[asked[i].Level] == 1)
                    {
                        cards[unit][asked[i].Day] = answer.Cards;
                        load[unit] = Math.Max(load[unit], answer.StationLoad);
                        link = answer.BindingLink.Length > 0 ? answer.BindingLink : link;
                    }
                }

                request.Days.Clear();
                asked.Clear();
                inMessage = 0;
            }
        }

        int planned = Array.IndexOf(Levels, 1);
        return new(Levels, ends, cards, load, [.. byLevel.Select(c => (int)c[planned])], link) { CardsByLevel = byLevel };
    }

    private static OffloadDay Day(
        Brief brief, ShootUnit unit, int[] cameras, IEnumerable<PlannedTake> takes, int day, double level, Dictionary<(int, int), RecordingFacts> facts)
    {
        ILookup<int, PlannedTake> byCamera = takes.ToLookup(t => t.Camera);
        double wrap = unit.Wrap.TickOfDay / 1e7;
        OffloadDay message = new() { Label = $"{unit.Name}, day {day + 1}, {level:0.##} of plan" };
        foreach (int camera in cameras)
        {
            CameraDay row = new() { Camera = brief.Shoot.Cameras[camera].Letter, CardBytes = brief.Shoot.Cameras[camera].Card.Size.Bytes };
            foreach (PlannedTake take in byCamera[camera])
            {
                long bytesPerFrame = facts[(camera, take.Recording)].BytesPerFrame;
                long bytes = (long)Math.Round(take.Frames * (double)bytesPerFrame * level);
                row.Takes.Add(new RecordedTake
                {
                    StartSeconds = take.StartSeconds,
                    EndSeconds = take.EndSeconds,
                    Bytes = bytes,
                    Files = Files(bytes, bytesPerFrame, brief.Shoot.Cameras[camera].Card.LargestFile.Bytes),
                });
                wrap = Math.Max(wrap, take.EndSeconds);
            }

            message.Cameras.Add(row);
        }

        message.WrapSeconds = wrap;
        return message;
    }

    /// <summary>Files of a take: whole frames only, as many as fit under the limit.</summary>
    private static int Files(long bytes, long bytesPerFrame, long largestFile)
    {
        long inAFile = Math.Max(1, largestFile / bytesPerFrame) * bytesPerFrame;
        return (int)Math.Clamp((bytes + inAFile - 1) / inAFile, 1, 1_000_000);
    }

    private static OffloadMeans Means(Brief brief, int[] cameras, int stations)
    {
        OffloadPlan plan = brief.Offload;
        OffloadMeans means = new()
        {
            Stations = stations,
            ReaderBytesPerSecond = cameras.Select(c => brief.Shoot.Cameras[c].Card.Read).Append(plan.Reader).Min().BytesPerSecond.ToDouble(),
            Verify = plan.Verify switch
            {
                "none" => VerifyLevel.None,
                "sizes" => VerifyLevel.Sizes,
                "source-and-destinations" => VerifyLevel.SourceAndDestinations,
                "camera-hashes" => VerifyLevel.CameraHashes,
                _ => VerifyLevel.Destinations,
            },
            HashBytesPerSecond = plan.Hash.BytesPerSecond.ToDouble(),
            SecondsPerFile = plan.PerFileSeconds,
            LookSeconds = plan.LookSeconds,
            TransitSeconds = plan.TransitSeconds,
            ReturnSeconds = plan.TransitSeconds,
            SpareCards = 1,
        };
        for (int i = 0; i < plan.Destinations.Count; i++)
        {
            means.Destinations.Add(new Contracts.Footage.V1.Destination
            {
                Label = $"copy {i + 1}",
                SustainedBytesPerSecond = plan.Destinations[i].Write.BytesPerSecond.ToDouble(),
                FastBytes = plan.Destinations[i].FastSize.Bytes,
                FastBytesPerSecond = plan.Destinations[i].FastWrite.BytesPerSecond.ToDouble(),
            });
        }

        return means;
    }
}
