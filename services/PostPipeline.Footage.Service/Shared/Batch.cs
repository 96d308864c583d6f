using PostPipeline.Contracts.Types.V1;
using PostPipeline.Hosting.Validation;

namespace PostPipeline.Footage.Service.Shared;

/// <summary>How a batch is answered: each item with a value or an error, in the order of the request.</summary>
internal static class Batch
{
    /// <summary>The most items.</summary>
    public const int MaximumItems = 10_000;

    /// <summary>Answers items that are small and many.</summary>
    /// <typeparam name="TItem">An item.</typeparam>
    /// <typeparam name="TValue">Its value.</typeparam>
    /// <typeparam name="TResult">The message with a value or an error.</typeparam>
    /// <param name="items">The items; too many are refused.</param>
    /// <param name="answer">Reads and computes.</param>
    /// <param name="result">Makes the message.</param>
    public static IEnumerable<TResult> Answers<TItem, TValue, TResult>(
        IReadOnlyCollection<TItem> items, Func<TItem, ItemProblems, TValue?> answer, Func<TItem, TValue?, ItemError?, TResult> result)
        where TValue : class
    {
        Violations violations = new();
        violations.Count("items", items.Count, 0, MaximumItems);
        violations.ThrowIfAny();
        ItemProblems problems = new();
        return items.Select(item => result(item, Answer(item, problems, answer, out ItemError? error), error));
    }

    /// <summary>Answers one item.</summary>
    /// <typeparam name="TItem">The item.</typeparam>
    /// <typeparam name="TValue">Its value.</typeparam>
    /// <param name="item">The item.</param>
    /// <param name="problems">Cleared here.</param>
    /// <param name="answer">Reads and computes; null or a problem where there is no value.</param>
    /// <param name="error">Why there is no value.</param>
    public static TValue? Answer<TItem, TValue>(TItem item, ItemProblems problems, Func<TItem, ItemProblems, TValue?> answer, out ItemError? error)
        where TValue : class
    {
        problems.Clear();
        TValue? value = null;
        try
        {
            value = answer(item, problems);
        }
        catch (ArgumentException refusal)
        {
            problems.AddRefusal(refusal);
        }
        catch (OverflowException)
        {
            problems.AddOverflow();
        }

        error = problems.None ? null : problems.ToError();
        return problems.None ? value : null;
    }
}
