using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.Service.Labelling;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>The settings of a conform, checked.</summary>
internal sealed record ConformJob
{
    public required bool IsTimeline { get; init; }

    public required FrameRate Rate { get; init; }

    public required bool DropFrame { get; init; }

    public required bool Strict { get; init; }

    public required bool AllEvents { get; init; }

    public required ConformOptions Options { get; init; }

    public required InventoryMapping Mapping { get; init; }

    public required PullOptions? Pull { get; init; }

    public required IReadOnlyList<Wire.PullFormat> PullFormats { get; init; }

    /// <summary>Reads the settings message.</summary>
    /// <exception cref="InvalidRequestException">A field is wrong; all of them are listed.</exception>
    public static ConformJob Read(Wire.ConformSettings settings)
    {
        Violations violations = new();
        FieldPath field = "settings";
        bool timeline = settings.Format == Wire.CutFormat.Timeline;
        violations.Require(field["format"], Enum.IsDefined(settings.Format), $"is {(int)settings.Format}; allowed is an edit list or a timeline");
        violations.Require(field["target"], Enum.IsDefined(settings.Target), $"is {(int)settings.Target}; allowed is original, proxy or mezzanine");
        FrameRate rate = timeline ? FrameRate.Fps24 : new LabelReader(violations).Rate(field["rate"], settings.Rate) ?? FrameRate.Fps24;
        violations.InRange(field["rate"], rate.Nominal, 1, Clip.MaximumNominalRate);
        violations.InRange(field["handle_frames"], settings.HandleFrames, 0, 10_000);
        violations.Count(field["reel_lengths"], settings.ReelLengths.Count, 0, 16);
        for (int i = 0; i < settings.ReelLengths.Count; i++)
        {
            violations.InRange(field["reel_lengths"][i], settings.ReelLengths[i], 1, Clip.MaximumNameBytes);
        }

        if (settings.Pull is { } pull)
        {
            violations.InRange(field["pull"]["merge_gap_frames"], pull.MergeGapFrames, 0, 1_000_000);
            violations.Count(field["pull"]["formats"], pull.Formats.Count, 0, 3);
            for (int i = 0; i < pull.Formats.Count; i++)
            {
                violations.Specified(field["pull"]["formats"][i], pull.Formats[i]);
            }
        }

        InventoryMapping mapping = MappingReader.Read(field["mapping"], settings.Mapping, violations);
        violations.ThrowIfAny();
        ConformOptions options = new()
        {
            HandleFrames = settings.HandleFrames,
            Target = settings.Target switch
            {
                Wire.ClipKind.Proxy => ClipKind.Proxy,
                Wire.ClipKind.Mezzanine => ClipKind.Mezzanine,
                _ => ClipKind.Original,
            },
            ThroughProxies = !settings.KeepToProxies,
        };
        return new()
        {
            IsTimeline = timeline,
            Rate = rate,
            DropFrame = settings.DropFrame,
            Strict = settings.Strict,
            AllEvents = settings.AllEvents,
            Options = settings.ReelLengths.Count > 0 ? options with { ReelLengths = [.. settings.ReelLengths] } : options,
            Mapping = mapping,
            Pull = settings.Pull is null
                ? null
                : new() { MergeGapFrames = settings.Pull.MergeGapFrames, WholeWhereUnknown = !settings.Pull.TrimWhereUnknown },
            PullFormats = settings.Pull is null ? [] : [.. settings.Pull.Formats.Distinct()],
        };
    }
}
