using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Generators;
using PostPipeline.Timecodes.OffSpeed;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>Reads a request for shooting days, and makes their clips.</summary>
internal static class ShootingDays
{
    /// <summary>The most collisions that are counted.</summary>
    public const int MostCollisions = 10_000;

    private const int MostCameras = 100;
    private const long MostTakes = 100_000;
    private const long MostClips = 1_000_000;
    private const long SecondsPerDay = 86_400;

    /// <summary>The clips of the days.</summary>
    /// <exception cref="InvalidRequestException">The request is wrong.</exception>
    public static IReadOnlyList<DayClip> Generate(Wire.GenerateShootingDaysRequest request, CancellationToken cancellation)
    {
        Violations violations = new();
        LabelReader reader = new(violations);
        violations.InRange("days", request.Days, 1, 366);
        violations.InRange("call_seconds", request.CallSeconds, 0, SecondsPerDay - 1);
        violations.InRange("day_seconds", request.DaySeconds, 1, SecondsPerDay);
        violations.InRange("takes_per_day", request.TakesPerDay, 1, (int)Math.Max(1, Math.Min(request.DaySeconds, SecondsPerDay) / 4));
        violations.InRange("mean_take_seconds", request.MeanTakeSeconds, 1, SecondsPerDay);
        violations.InRange("off_speed_percent", request.OffSpeedPercent, 0, 100);
        violations.Count("off_speed_rates", request.OffSpeedRates.Count, 0, MostCameras);
        FrameRate? project = reader.Rate("project_rate", request.ProjectRate);
        FrameRate?[] offSpeed = [.. request.OffSpeedRates.Select((rate, i) => reader.Rate(FieldPath.Of("off_speed_rates")[i], rate))];
        DayCamera?[] cameras = [];
        if (violations.Count("cameras", request.Cameras.Count, 1, MostCameras))
        {
            cameras = [.. request.Cameras.Select((camera, i) => Camera(FieldPath.Of("cameras")[i], camera, request.CallSeconds, violations, reader))];
        }

        long takes = (long)request.Days * request.TakesPerDay * request.Cameras.Count;
        violations.Require("takes_per_day", takes <= MostTakes, $"makes {takes} clips on all days and cameras; allowed is at most {MostTakes}");
        violations.ThrowIfAny();

        ShootingDaySettings settings = new(
            cameras.Length, request.Days, request.TakesPerDay, request.CallSeconds, request.DaySeconds, request.MeanTakeSeconds,
            project!.Value, [.. offSpeed.Select(rate => rate!.Value)], request.OffSpeedPercent);
        IReadOnlyList<DayTake> planned = violations.Check("takes_per_day", () => ShootingDayPlanner.Plan(request.Seed, settings)) ?? [];
        long clips = planned.Sum(take => cameras[take.Camera]!.FramesPerReel is > 0 and var reel ? 1 + (take.FrameCount / reel) : 1);
        violations.Require("cameras", clips <= MostClips, $"fill their reels so often that {clips} clips would come of it; allowed is at most {MostClips}");
        violations.ThrowIfAny();
        IReadOnlyList<DayClip>? made = violations.Check("cameras", () => ShootingDay.Label(cameras!, planned, project.Value, cancellation));
        violations.ThrowIfAny();
        return made!;
    }

    /// <summary>Pairs of clips of one reel that share labels.</summary>
    public static LabelCollisions Collisions(IReadOnlyList<DayClip> clips, CancellationToken cancellation) => LabelCollisions.Among(
        [.. clips.Where(clip => clip.Labelled.Labels is not null).Select(clip => new LabelledTake(clip.Reel, clip.Labelled.Labels!.Value))],
        MostCollisions,
        cancellation);

    private static DayCamera? Camera(FieldPath field, Wire.ShootingCamera camera, long callSeconds, Violations violations, LabelReader reader)
    {
        TimecodeFormat? format = reader.Format(field["base"], camera.Base);
        violations.Specified(field["run"], camera.Run);
        OffSpeedLabelling labelling = reader.Labelling(field["labelling"], camera.Labelling);
        violations.Require(field["labelling"], labelling != OffSpeedLabelling.Unknown, "is unknown; ask once for each behaviour that is possible");
        violations.Length(field["letter"], camera.Letter, 1, 16);
        violations.InRange(field["first_reel"], camera.FirstReel, 0, 1_000_000);
        violations.InRange(field["frames_per_reel"], camera.FramesPerReel, 0, TimecodeRange.MaximumFrames);
        violations.InRange(field["jam_seconds"], camera.JamSeconds, 0, callSeconds);
        violations.InRange(field["jam_every_seconds"], camera.JamEverySeconds, 0, 366 * SecondsPerDay);
        violations.InRange(field["clock_parts_per_billion"], camera.ClockPartsPerBillion, 1 - DayCamera.MaximumPartsPerBillion, DayCamera.MaximumPartsPerBillion);
        Timecode? start = reader.LabelOrZero(field["record_run_label"], camera.RecordRunLabel, format);
        return format is null || start is null
            ? null
            : new(
                camera.Letter,
                format,
                camera.Run == Wire.TimecodeRun.Record ? TimecodeRun.Record : TimecodeRun.Free,
                labelling,
                start.Value,
                camera.HourPerReel,
                Math.Max(1, camera.FirstReel),
                camera.FramesPerReel,
                camera.JamSeconds,
                camera.JamEverySeconds,
                camera.ClockPartsPerBillion);
    }
}
