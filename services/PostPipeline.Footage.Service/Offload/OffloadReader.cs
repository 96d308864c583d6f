using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Offloads;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Hosting.Validation;
using CameraDay = PostPipeline.Footage.Offloads.CameraDay;
using CameraMessage = PostPipeline.Contracts.Footage.V1.CameraDay;
using Destination = PostPipeline.Footage.Offloads.Destination;
using DestinationMessage = PostPipeline.Contracts.Footage.V1.Destination;
using MeansMessage = PostPipeline.Contracts.Footage.V1.OffloadMeans;
using OffloadMeans = PostPipeline.Footage.Offloads.OffloadMeans;
using RecordedTake = PostPipeline.Footage.Offloads.RecordedTake;
using VerifyLevel = PostPipeline.Footage.Offloads.VerifyLevel;
using VerifyMessage = PostPipeline.Contracts.Footage.V1.VerifyLevel;

namespace PostPipeline.Footage.Service.Offload;

/// <summary>Reads the means of an offload, and days.</summary>
internal static class OffloadReader
{
    private const double FastestBytesPerSecond = 1e15;
    private const double LongestSeconds = 7 * 86_400.0;

    // Clocks beyond a fortnight are mistakes, and keep sums of microseconds far from their limit.
    private const double LatestSeconds = 14 * 86_400.0;

    /// <summary>The means; null where anything about them is wrong.</summary>
    public static OffloadMeans? Means(MeansMessage? message, Violations violations)
    {
        FieldPath at = "means";
        if (!violations.Present(at, message))
        {
            return null;
        }

        int before = violations.Total;
        violations.InRange(at["stations"], message.Stations, 1, OffloadMeans.MaximumStations);
        violations.InRange(at["reader_bytes_per_second"], message.ReaderBytesPerSecond, 1, FastestBytesPerSecond);
        violations.Count(at["destinations"], message.Destinations.Count, 1, OffloadMeans.MaximumDestinations);
        violations.Specified(at["verify"], message.Verify);
        violations.InRange(at["hash_bytes_per_second"], message.HashBytesPerSecond, 0, FastestBytesPerSecond);
        violations.InRange(at["hash_threads"], message.HashThreads, 0, 1024);
        violations.InRange(at["bus_bytes_per_second"], message.BusBytesPerSecond, 0, FastestBytesPerSecond);
        violations.InRange(at["seconds_per_file"], message.SecondsPerFile, 0, 3600);
        violations.InRange(at["look_seconds"], message.LookSeconds, 0, LongestSeconds);
        violations.InRange(at["transit_seconds"], message.TransitSeconds, 0, LongestSeconds);
        violations.InRange(at["return_seconds"], message.ReturnSeconds, 0, LongestSeconds);
        violations.InRange(at["hold_nights"], message.HoldNights, 0, 366);
        violations.InRange(at["spare_cards"], message.SpareCards, 0, 1000);
        Destination[] destinations = [.. message.Destinations.Select((d, i) => Read(d, at["destinations"][i], i, violations)).OfType<Destination>()];
        if (violations.Total > before)
        {
            return null;
        }

        return violations.Check(at, () => new OffloadMeans(message.Stations, message.ReaderBytesPerSecond, destinations)
        {
            Verify = message.Verify switch
            {
                VerifyMessage.None => VerifyLevel.None,
                VerifyMessage.Sizes => VerifyLevel.Sizes,
                VerifyMessage.Destinations => VerifyLevel.Destinations,
                VerifyMessage.SourceAndDestinations => VerifyLevel.SourceAndDestinations,
                _ => VerifyLevel.CameraHashes,
            },
            HashBytesPerSecond = message.HashBytesPerSecond == 0 ? null : message.HashBytesPerSecond,
            HashThreads = Math.Max(1, message.HashThreads),
            BusBytesPerSecond = message.BusBytesPerSecond == 0 ? null : message.BusBytesPerSecond,
            SecondsPerFile = message.SecondsPerFile,
            LookSeconds = message.LookSeconds,
            TransitSeconds = message.TransitSeconds,
            ReturnSeconds = message.ReturnSeconds,
            HoldNights = message.HoldNights,
            SpareCards = message.SpareCards,
        });
    }

    /// <summary>A day; null where anything about it is wrong.</summary>
    public static ShootDay? Day(OffloadDay message, ItemProblems problems)
    {
        problems.Label(message.Label);
        problems.InRange("wrap_seconds", message.WrapSeconds, 0, LatestSeconds);
        problems.InRange("day", message.Day, 0, 10_000);
        if (message.HasCourierSeconds)
        {
            problems.InRange("courier_seconds", message.CourierSeconds, 0, LatestSeconds);
        }

        if (message.HasNextCallSeconds)
        {
            problems.InRange("next_call_seconds", message.NextCallSeconds, 0, LatestSeconds);
        }

        if (message.HasRestHours)
        {
            problems.InRange("rest_hours", message.RestHours, 0, 24);
        }

        CameraDay[] cameras = [.. message.Cameras.Select((c, i) => Read(c, i, problems))];
        foreach (IGrouping<string, CameraMessage> twice in message.Cameras.GroupBy(c => c.Camera).Where(g => g.Count() > 1))
        {
            problems.Add("cameras", $"has '{twice.Key}' {twice.Count()} times; each camera stands once in a day");
        }

        return problems.None ? new(cameras, Clock(message.WrapSeconds), message.Day) : null;
    }

    /// <summary>Seconds as whole microseconds, to the nearest.</summary>
    public static long Clock(double seconds) => (long)Math.Round(seconds * 1e6);

    private static CameraDay Read(CameraMessage camera, int index, ItemProblems problems)
    {
        if (camera.CardBytes < 1)
        {
            problems.Add($"cameras[{index}].card_bytes", $"is {camera.CardBytes}; allowed is 1 or more");
        }

        RecordedTake[] takes = new RecordedTake[camera.Takes.Count];
        long last = 0;
        long bytes = 0;
        for (int t = 0; t < takes.Length; t++)
        {
            Contracts.Footage.V1.RecordedTake take = camera.Takes[t];
            if (!(take.StartSeconds >= 0 && take.EndSeconds >= take.StartSeconds && take.EndSeconds <= LatestSeconds))
            {
                problems.Add($"cameras[{index}].takes[{t}]", $"runs from {take.StartSeconds} s to {take.EndSeconds} s; allowed is 0 or more to {LatestSeconds} s, and no end before its start");
                continue;
            }

            if (take.Bytes < 0 || take.Files < 1)
            {
                problems.Add($"cameras[{index}].takes[{t}]", $"has {take.Bytes} bytes in {take.Files} files; allowed is 0 bytes or more in 1 file or more");
                continue;
            }

            takes[t] = new(Clock(take.StartSeconds), Clock(take.EndSeconds), take.Bytes, take.Files);
            if (takes[t].StartMicroseconds < last)
            {
                problems.Add($"cameras[{index}].takes[{t}].start_seconds", $"is {take.StartSeconds}, before the take before it ends at {last / 1e6}");
            }

            last = takes[t].EndMicroseconds;
            bytes = checked(bytes + take.Bytes);
        }

        for (int p = 0; p < camera.PullSeconds.Count; p++)
        {
            problems.InRange($"cameras[{index}].pull_seconds[{p}]", camera.PullSeconds[p], 0, LatestSeconds);
        }

        if (camera.CardBytes >= 1 && bytes / camera.CardBytes > 10_000)
        {
            problems.Add($"cameras[{index}].card_bytes", $"is {camera.CardBytes}; {bytes} bytes would fill {bytes / camera.CardBytes} cards in a day; allowed are 10000");
        }

        return new(camera.Camera, camera.CardBytes, takes, [.. camera.PullSeconds.Where(p => p is >= 0 and <= LatestSeconds).Select(Clock)]);
    }

    private static Destination? Read(DestinationMessage message, FieldPath at, int index, Violations violations)
    {
        bool good = violations.InRange(at["sustained_bytes_per_second"], message.SustainedBytesPerSecond, 1, FastestBytesPerSecond);
        good &= violations.InRange(at["fast_bytes"], message.FastBytes, 0, long.MaxValue);
        good &= violations.InRange(at["fast_bytes_per_second"], message.FastBytesPerSecond, 0, FastestBytesPerSecond);
        good &= violations.InRange(at["read_bytes_per_second"], message.ReadBytesPerSecond, 0, FastestBytesPerSecond);
        good &= violations.Length(at["label"], message.Label, 0, ItemProblems.MaximumLabel);
        if (!good)
        {
            return null;
        }

        return new(message.Label.Length > 0 ? message.Label : $"destination {index + 1}", message.SustainedBytesPerSecond)
        {
            FastBytes = message.FastBytes,
            FastBytesPerSecond = message.FastBytesPerSecond,
            ReadBytesPerSecond = message.ReadBytesPerSecond < 1 ? null : message.ReadBytesPerSecond,
            Cascaded = message.Cascaded,
        };
    }
}
