using PostPipeline.Hosting.Validation;
using Types = PostPipeline.Contracts.Types.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>A value or an error for each item of a batch, so that one wrong item does not cost the others.</summary>
internal static class Items
{
    /// <summary>Answers one item.</summary>
    /// <typeparam name="TValue">What the item becomes.</typeparam>
    /// <typeparam name="TOutcome">The message that holds the value or the error.</typeparam>
    /// <param name="read">Reads and computes; records violations, or lets the domain refuse. Its result counts only without violations.</param>
    /// <param name="value">The outcome of a value.</param>
    /// <param name="error">The outcome of an error.</param>
    public static TOutcome Answer<TValue, TOutcome>(
        Func<Violations, TValue?> read, Func<TValue, TOutcome> value, Func<Types.ItemError, TOutcome> error)
        where TValue : class
    {
        Violations violations = new();
        TValue? result = violations.Check(FieldPath.Root, () => read(violations));
        if (violations.None)
        {
            return value(result!);
        }

        Violation first = violations.Listed[0];
        string more = violations.Total > 1 ? $" (and {violations.Total - 1} more)" : string.Empty;
        return error(new() { Field = first.Field, Description = $"{first.Problem}{more}" });
    }
}
