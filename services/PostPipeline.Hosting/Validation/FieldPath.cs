using System.Text;

namespace PostPipeline.Hosting.Validation;

/// <summary>
/// The path of a field in a request, as callers read it in an error: <c>cameras[2].frame_rate.denominator</c>.
/// Names are those of the proto, in snake_case. A path is a chain of small nodes and becomes text only when an
/// error needs it, so that the paths of ten thousand good items cost next to nothing.
/// </summary>
public sealed class FieldPath
{
    private readonly FieldPath? parent;
    private readonly string? name;
    private readonly int index;

    private FieldPath(FieldPath? parent, string? name, int index) => (this.parent, this.name, this.index) = (parent, name, index);

    /// <summary>The request itself.</summary>
    public static FieldPath Root { get; } = new(null, null, -1);

    /// <summary>The entry at <paramref name="index"/> of this repeated field.</summary>
    /// <param name="index">Counted from 0.</param>
    public FieldPath this[int index] => new(this, null, index);

    /// <summary>A field of this message.</summary>
    /// <param name="field">The name in the proto.</param>
    public FieldPath this[string field] => new(this, field, -1);

    /// <summary>A top-level field of the request.</summary>
    /// <param name="field">The name in the proto.</param>
    public static implicit operator FieldPath(string field) => Of(field);

    /// <summary>A top-level field of the request.</summary>
    /// <param name="field">The name in the proto.</param>
    public static FieldPath Of(string field) => new(Root, field, -1);

    /// <summary><c>cameras[2].frame_rate.denominator</c>.</summary>
    public override string ToString()
    {
        StringBuilder text = new();
        Write(text);
        return text.ToString();
    }

    private void Write(StringBuilder text)
    {
        parent?.Write(text);
        if (index >= 0)
        {
            text.Append('[').Append(index).Append(']');
        }
        else if (name is not null)
        {
            text.Append(text.Length > 0 ? "." : string.Empty).Append(name);
        }
    }
}
