using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Preparing;

/// <summary>Asks the footage service for frame sizes and for what each camera's media can take.</summary>
internal sealed class FootageCalls(SuiteClients services)
{
    private const string MezzanineLabel = "mezzanine";
    private const string MasterLabel = "master";

    public async Task<FrameSizes> RatesAsync(Brief brief, CancellationToken cancellation)
    {
        EstimateRatesRequest request = new();
        foreach (CaptureMode mode in brief.Modes)
        {
            request.Items.Add(new RateItem
            {
                Label = $"mode {mode.Name}",
                Coding = Coding(mode),
                Raster = Wire.Of(mode.Raster),
                SensorRate = Wire.Of(mode.SensorRate),
                ProjectRate = Wire.Of(mode.ProjectRate),
            });
        }

        Mezzanine mezzanine = brief.Mezzanine;
        request.Items.Add(new RateItem
        {
            Label = MezzanineLabel,
            Coding = new Coding { BitsPerPixel = new BitsPerPixelCoding { Average = Wire.Decimal(mezzanine.BitsPerPixel) } },
            Raster = Wire.Of(mezzanine.Raster),
            SensorRate = Wire.Of(brief.Modes[0].ProjectRate),
            ProjectRate = Wire.Of(brief.Modes[0].ProjectRate),
        });
        request.Items.Add(new RateItem
        {
            Label = MasterLabel,
            Coding = new Coding { BitsPerPixel = new BitsPerPixelCoding { Average = Wire.Decimal(3 * brief.Deliver.Depth) } },
            Raster = Wire.Of(brief.Deliver.Raster),
            SensorRate = Wire.Of(brief.Modes[0].ProjectRate),
            ProjectRate = Wire.Of(brief.Modes[0].ProjectRate),
        });

        EstimateRatesResponse response = await services.Footage.EstimateRatesAsync(request, cancellationToken: cancellation).ConfigureAwait(false);
        Dictionary<string, RateEstimate> answers = response.Results.ToDictionary(r => r.Label, r => r.Estimate ?? throw Wire.Refused(r.Label, r.Error));
        return new(
            brief.Modes.ToDictionary(m => m.Name, m => answers[$"mode {m.Name}"].BytesPerFrame),
            brief.Modes.ToDictionary(m => m.Name, m => Math.Max(answers[$"mode {m.Name}"].PeakBytesPerFrame, (long)Math.Ceiling(answers[$"mode {m.Name}"].BytesPerFrame * m.PeakFactor))),
            answers[MezzanineLabel].BytesPerFrame,
            answers[MasterLabel].BytesPerFrame);
    }

    public async Task<IReadOnlyList<RecordingFacts>> AssessAsync(Brief brief, FrameSizes sizes, CancellationToken cancellation)
    {
        AssessRecordingsRequest request = new();
        List<(int Camera, int Recording, CaptureMode Mode)> asked = [];
        for (int c = 0; c < brief.Shoot.Cameras.Count; c++)
        {
            for (int r = 0; r < brief.Shoot.Cameras[c].Recordings.Count; r++)
            {
                CaptureMode mode = brief.Shoot.Cameras[c].Recordings[r].Mode;
                asked.Add((c, r, mode));
                request.Items.Add(Item(brief.Shoot.Cameras[c], mode, sizes));
            }
        }

        AssessRecordingsResponse response = await services.Footage.AssessRecordingsAsync(request, cancellationToken: cancellation).ConfigureAwait(false);
        return [.. response.Results.Select((result, i) => Facts(asked[i], result, sizes))];
    }

    private static RecordingFacts Facts((int Camera, int Recording, CaptureMode Mode) asked, RecordingResult result, FrameSizes sizes)
    {
        RecordingAssessment answer = result.Assessment ?? throw Wire.Refused(result.Label, result.Error);
        return new(
            asked.Camera,
            asked.Recording,
            sizes.Average[asked.Mode.Name],
            answer.NeededBytesPerSecond,
            answer.CeilingBytesPerSecond,
            answer.RecordingClass switch { RecordingClass.Sustained => "sustained", RecordingClass.Burst => "burst", _ => "over-ceiling" },
            Wire.Known(answer.Sustained),
            answer.RecordSeconds,
            answer.Burst?.WindowSeconds ?? 0,
            answer.Burst?.Frames ?? 0,
            asked.Mode.ReadyAgainSeconds ?? answer.Burst?.ReadyAgainSeconds ?? 0);
    }

    private static RecordingItem Item(Camera camera, CaptureMode mode, FrameSizes sizes)
    {
        RecordingItem item = new()
        {
            Label = $"camera {camera.Letter}, mode {mode.Name}",
            BytesPerFrame = sizes.Average[mode.Name],
            PeakBytesPerFrame = sizes.Peak[mode.Name],
            SensorRate = Wire.Of(mode.SensorRate),
            ProjectRate = Wire.Of(mode.ProjectRate),
            Medium = new Medium
            {
                CapacityBytes = camera.Card.Size.Bytes,
                RatedBytesPerSecond = Wire.Of(camera.Card.Write),
                Derating = Wire.Decimal(camera.Card.Trust),
            },
            Evidence = Wire.Of(mode.Sustained),
        };
        if (mode.Buffer is not null || mode.BurstSeconds is not null)
        {
            item.Buffer = new()
            {
                CapacityBytes = mode.Buffer?.Bytes ?? 0,
                StatedBurstSeconds = mode.Buffer is null ? mode.BurstSeconds ?? 0 : 0,
                Drain = mode.Drain switch
                {
                    "while-recording" => DrainBehaviour.WhileRecording,
                    "after" => DrainBehaviour.AfterCapture,
                    _ => DrainBehaviour.Unknown,
                },
                TriggerPosition = Wire.Decimal(mode.Trigger),
                ResetSeconds = 5,
            };
        }

        return item;
    }

    private static Coding Coding(CaptureMode mode) => mode.Rate is { } rate
        ? new Coding { BitRate = new BitRateCoding { AverageBitsPerSecond = rate.BitsPerSecond.Floor() } }
        : new Coding { BitsPerPixel = new BitsPerPixelCoding { Average = Wire.Decimal(mode.BitsPerPixel) } };
}
