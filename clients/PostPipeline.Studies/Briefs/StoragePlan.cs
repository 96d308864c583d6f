using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>Where bytes live.</summary>
/// <param name="Online">The tier that editors and farm work on.</param>
/// <param name="Nearline">The tier that originals rest on.</param>
/// <param name="TapeCopies">Tape sets.</param>
/// <param name="TapeSize">Native size of a tape.</param>
/// <param name="TapeFill">Share of a tape planned on.</param>
/// <param name="OriginalsOnline">Whether a transcode pipeline keeps the originals online.</param>
public sealed record StoragePlan(
    Tier Online,
    Tier Nearline,
    int TapeCopies,
    DataSize TapeSize,
    double TapeFill,
    bool OriginalsOnline);
