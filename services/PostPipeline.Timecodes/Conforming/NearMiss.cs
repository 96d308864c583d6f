namespace PostPipeline.Timecodes.Conforming;

/// <summary>A clip that is the one meant, by name or reel, but does not fit, and why. The more telling reason wins.</summary>
internal readonly record struct NearMiss(int Row, ConformClass Class, MatchRung Rung, int Score, ConformFindings Findings)
{
    public const int NoLabelsScore = 1;
    public const int RateElsewhereScore = 2;
    public const int DropElsewhereScore = 3;
    public const int OutsideScore = 4;
    public const int ChunkScore = 5;
    public const int RateScore = 6;
    public const int DropScore = 7;

    public static NearMiss Nothing => new(-1, ConformClass.None, MatchRung.Person, 0, ConformFindings.None);

    /// <summary>The better of two; the earlier one where they are equal.</summary>
    public NearMiss Better(NearMiss other) => other.Score > Score || (Row < 0 && other.Row >= 0) ? other : this;
}
