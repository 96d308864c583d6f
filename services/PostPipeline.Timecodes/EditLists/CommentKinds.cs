namespace PostPipeline.Timecodes.EditLists;

/// <summary>What the text of a comment says it is.</summary>
internal static class CommentKinds
{
    public static CommentKind Of(ReadOnlySpan<byte> text, bool starred) =>
        EditText.StartsWith(text, "FROM CLIP NAME:"u8) ? CommentKind.FromClipName
        : EditText.StartsWith(text, "TO CLIP NAME:"u8) ? CommentKind.ToClipName
        : EditText.StartsWith(text, "KEY CLIP NAME:"u8) ? CommentKind.KeyClipName
        : EditText.StartsWith(text, "SOURCE FILE:"u8) ? CommentKind.SourceFile
        : EditText.StartsWith(text, "LOC:"u8) ? CommentKind.Marker
        : starred ? CommentKind.Remark : CommentKind.OtherStatement;
}
