namespace PostPipeline.Studies.Stages;

/// <summary>The words by which a named event says what it holds up.</summary>
internal static class StageTags
{
    public const int None = -1;
    public const int Shoot = 0;
    public const int Offload = 1;
    public const int Farm = 2;
    public const int Edit = 3;
    public const int Conform = 4;
    public const int Finish = 5;
    public const int Review = 6;
    public const int Count = 7;

    private static readonly string[] Words = ["shoot", "offload", "farm", "edit", "conform", "finish", "review"];

    public static int Of(string word) => Array.IndexOf(Words, word);
}
