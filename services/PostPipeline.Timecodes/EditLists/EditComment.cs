namespace PostPipeline.Timecodes.EditLists;

/// <summary>A comment or other statement that an edit list carries, kept as it was written.</summary>
/// <param name="Kind">What it says.</param>
/// <param name="Starred">Whether the line began with an asterisk.</param>
/// <param name="Text">The whole text behind the asterisk, without spaces at either end.</param>
public readonly record struct EditComment(CommentKind Kind, bool Starred, string Text)
{
    /// <summary>What stands behind the first colon of a known kind, else the whole text.</summary>
    public string Value
    {
        get
        {
            int colon = Kind is CommentKind.Remark or CommentKind.OtherStatement ? -1 : Text.IndexOf(':', StringComparison.Ordinal);
            return colon < 0 ? Text : Text.AsSpan(colon + 1).Trim().ToString();
        }
    }
}
