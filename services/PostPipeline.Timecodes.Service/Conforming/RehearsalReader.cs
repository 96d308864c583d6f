using System.Collections.Immutable;
using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Generators;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.Rehearsals;
using PostPipeline.Timecodes.Service.Labelling;
using Types = PostPipeline.Contracts.Types.V1;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>Puts a rehearsal plan together from the messages of a stream and collects what is wrong with them.</summary>
internal sealed class RehearsalReader
{
    private const int MostCameras = 100;
    private const double SecondsPerWeek = 7 * 86_400.0;

    private readonly Violations violations = new();
    private readonly LabelReader labels;
    private readonly Wire.RehearsalSettings settings;
    private readonly Dictionary<string, int> cameraPlaces = new(StringComparer.Ordinal);
    private readonly ImmutableArray<RehearsalTake>.Builder takes = ImmutableArray.CreateBuilder<RehearsalTake>();
    private readonly ImmutableArray<RehearsalCamera> cameras;
    private readonly TimecodeFormat? project;

    public RehearsalReader(Wire.RehearsalSettings settings)
    {
        this.settings = settings;
        labels = new(violations);
        FieldPath field = "settings";
        project = Format(field["project_rate"], field["drop_frame"], settings.ProjectRate, settings.DropFrame);
        violations.InRange(field["events"], settings.Events, 1, RehearsalPlan.MaximumEvents);
        violations.InRange(field["handle_frames"], settings.HandleFrames, 0, 1_000);
        violations.InRange(field["reel_name_characters"], settings.ReelNameCharacters, 0, Clip.MaximumNameBytes);
        violations.Require(field["clip_names_in_list"], Enum.IsDefined(settings.ClipNamesInList), $"is {(int)settings.ClipNamesInList}; allowed is a verdict");
        violations.Count(field["cameras"], settings.Cameras.Count, 1, MostCameras);
        cameras = settings.Cameras.Count > MostCameras ? [] : [.. settings.Cameras.Select((camera, place) => Camera(field["cameras"][place], camera, place))];

        // Takes cannot be read without sound settings.
        violations.ThrowIfAny();
    }

    /// <summary>Takes a message that follows the settings.</summary>
    public void Take(Wire.RehearsePlanRequest request)
    {
        if (request.Takes is not { } some)
        {
            throw new InvalidRequestException([new("takes", "is not set; after the settings come takes")], 1);
        }

        violations.Count("takes.takes", some.Takes.Count, 0, ConformGrpcService.RowsPerMessage);
        violations.Require("takes", takes.Count + some.Takes.Count <= RehearsalPlan.MaximumTakes, $"has more than {RehearsalPlan.MaximumTakes} takes, which is the limit");
        violations.ThrowIfAny();
        foreach (Wire.PlannedTake take in some.Takes)
        {
            Add(FieldPath.Of("takes")[takes.Count], take);
        }
    }

    /// <summary>The plan, once the stream has ended.</summary>
    public RehearsalPlan Finish()
    {
        violations.ThrowIfAny();
        return new()
        {
            Seed = settings.Seed,
            ProjectFormat = project!,
            Events = settings.Events,
            HandleFrames = settings.HandleFrames,
            ReelCharacters = settings.ReelNameCharacters,
            NamesInList = Known(settings.ClipNamesInList),
            Cameras = cameras,
            Takes = takes.DrainToImmutable(),
        };
    }

    private static bool? Known(Types.Verdict verdict) => verdict switch
    {
        Types.Verdict.Pass => true,
        Types.Verdict.Fail => false,
        _ => null,
    };

    private TimecodeFormat? Format(FieldPath rateField, FieldPath dropField, Types.FrameRate? rate, bool drop)
    {
        if (labels.Rate(rateField, rate) is not { } known || !violations.InRange(rateField, known.Nominal, 1, Clip.MaximumNominalRate))
        {
            return null;
        }

        bool exists = TimecodeFormat.TryCreate(known, drop, out TimecodeFormat? format, out string problem);
        violations.Require(dropField, exists, $"is {drop}: {problem}");
        return format;
    }

    private RehearsalCamera Camera(FieldPath field, Wire.CameraSettings camera, int place)
    {
        violations.Length(field["camera"], camera.Camera, 1, 64);
        violations.Require(field["camera"], cameraPlaces.TryAdd(camera.Camera, place), $"is '{camera.Camera}' like another camera; names must differ");
        violations.Require(field["timecode_run"], Enum.IsDefined(camera.TimecodeRun), $"is {(int)camera.TimecodeRun}; allowed is free or record");
        violations.Require(field["proxy_source"], Enum.IsDefined(camera.ProxySource), $"is {(int)camera.ProxySource}; allowed is none, in camera or in post");
        violations.InRange(field["drift_ppm"], camera.DriftPpm, 0, 1e6);
        violations.InRange(field["jam_sync_hours"], camera.JamSyncHours, 0, 24 * 366.0);
        TimecodeFormat? format = Format(field["timecode_base"], field["drop_frame"], camera.TimecodeBase, camera.DropFrame);
        return new()
        {
            Name = camera.Camera,
            Run = camera.TimecodeRun == Wire.TimecodeRun.Record ? TimecodeRun.Record : TimecodeRun.Free,
            OffSpeedLabelling = labels.Labelling(field["off_speed_labelling"], camera.OffSpeedLabelling),
            Base = format ?? TimecodeFormat.Fps24,
            Proxies = camera.ProxySource switch
            {
                Wire.ProxySource.InCamera => ProxyOrigin.InCamera,
                Wire.ProxySource.InPost => ProxyOrigin.InPost,
                _ => ProxyOrigin.None,
            },
            ProxyMatches = Known(camera.ProxyMatches),
            ProxyOffSpeed = Known(camera.ProxyOffSpeed),
            DriftPartsPerMillion = camera.DriftPpm,
            JamSyncHours = camera.JamSyncHours,
        };
    }

    private void Add(FieldPath field, Wire.PlannedTake take)
    {
        violations.Length(field["clip"], take.Clip, 1, 64);
        violations.Length(field["reel"], take.Reel, 0, 64);
        if (!cameraPlaces.TryGetValue(take.Camera, out int camera))
        {
            violations.Add(field["camera"], $"is '{take.Camera}'; allowed is a camera of the settings");
        }

        violations.InRange(field["day"], take.Day, 0, 365);
        violations.InRange(field["start_seconds"], take.StartSeconds, 0, SecondsPerWeek);
        violations.InRange(field["frames"], take.Frames, 1, Clip.MaximumFrames);
        violations.InRange(field["bytes"], take.Bytes, 0, long.MaxValue);
        violations.InRange(field["record_run_start_frame"], take.RecordRunStartFrame, 0, long.MaxValue / 2);
        FrameRate rate = labels.Rate(field["sensor_rate"], take.SensorRate) ?? FrameRate.Fps24;
        takes.Add(new(take.Clip, take.Reel, camera, take.Day, take.StartSeconds, take.Frames, rate, take.RecordRunStartFrame));
    }
}
