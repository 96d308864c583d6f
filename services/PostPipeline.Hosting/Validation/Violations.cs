using System.Diagnostics.CodeAnalysis;
using System.Numerics;

namespace PostPipeline.Hosting.Validation;

/// <summary>
/// Collects everything that is wrong with a request, so that a caller mends it in one go. Check all fields, then
/// call <see cref="ThrowIfAny"/> before computing anything.
/// </summary>
/// <example>
/// <code>
/// Violations violations = new();
/// violations.Count("cameras", request.Cameras.Count, 1, 20);
/// FrameRate? rate = violations.Check(FieldPath.Of("cameras")[2]["frame_rate"], () => FrameRate.From(24, 0));
/// violations.ThrowIfAny();
/// </code>
/// </example>
public sealed class Violations
{
    /// <summary>How many are listed in an answer; the rest are counted. Error details travel in a header of bounded size.</summary>
    public const int MaximumListed = 32;

    /// <summary>The longest text of one violation, in characters.</summary>
    public const int MaximumProblemLength = 200;

    private readonly List<Violation> listed = [];

    /// <summary>How many were found so far, listed or not.</summary>
    public int Total { get; private set; }

    /// <summary>Whether nothing was found so far.</summary>
    public bool None => Total == 0;

    /// <summary>The first <see cref="MaximumListed"/>, in the order found.</summary>
    public IReadOnlyList<Violation> Listed => listed;

    /// <summary>Records a violation.</summary>
    /// <param name="field">The field.</param>
    /// <param name="problem">The value and what is allowed: <c>is 0; allowed is 1 or more</c>.</param>
    public void Add(FieldPath field, string problem)
    {
        Total++;
        if (listed.Count < MaximumListed)
        {
            listed.Add(new(field.ToString(), Shorten(problem)));
        }
    }

    /// <summary>Records a violation unless a condition holds; answers the condition.</summary>
    /// <param name="field">The field.</param>
    /// <param name="condition">What must hold.</param>
    /// <param name="problem">The value and what is allowed.</param>
    public bool Require(FieldPath field, bool condition, string problem)
    {
        if (!condition)
        {
            Add(field, problem);
        }

        return condition;
    }

    /// <summary>Checks that a number lies in [<paramref name="low"/>, <paramref name="high"/>]; a NaN never does.</summary>
    /// <typeparam name="T">A number.</typeparam>
    /// <param name="field">The field.</param>
    /// <param name="value">Its value.</param>
    /// <param name="low">The smallest allowed value.</param>
    /// <param name="high">The largest allowed value.</param>
    public bool InRange<T>(FieldPath field, T value, T low, T high)
        where T : INumber<T> =>
        value >= low && value <= high || Refuse(field, $"is {value}; allowed is {low} to {high}");

    /// <summary>Checks the number of entries of a repeated field.</summary>
    /// <param name="field">The field.</param>
    /// <param name="count">How many entries it has.</param>
    /// <param name="low">The fewest allowed.</param>
    /// <param name="high">The most allowed.</param>
    public bool Count(FieldPath field, int count, int low, int high) =>
        count >= low && count <= high || Refuse(field, $"has {count} entries; allowed is {low} to {high}");

    /// <summary>Checks the length of a text.</summary>
    /// <param name="field">The field.</param>
    /// <param name="text">Its value.</param>
    /// <param name="low">The fewest characters allowed.</param>
    /// <param name="high">The most characters allowed.</param>
    public bool Length(FieldPath field, string text, int low, int high) =>
        text.Length >= low && text.Length <= high
        || Refuse(field, text.Length == 0 ? $"is empty; allowed are {low} to {high} characters" : $"has {text.Length} characters; allowed is {low} to {high}");

    /// <summary>Checks that a message field is set.</summary>
    /// <typeparam name="T">The message.</typeparam>
    /// <param name="field">The field.</param>
    /// <param name="value">Its value; null where unset.</param>
    public bool Present<T>(FieldPath field, [NotNullWhen(true)] T? value)
        where T : class =>
        value is not null || Refuse(field, "is not set");

    /// <summary>A message field without which nothing else can be checked: the value, or a refusal at once.</summary>
    /// <typeparam name="T">The message.</typeparam>
    /// <param name="field">The field.</param>
    /// <param name="value">Its value; null where unset.</param>
    public static T Needed<T>(FieldPath field, T? value)
        where T : class
    {
        if (value is null)
        {
            Violations violations = new();
            violations.Present(field, value);
            violations.ThrowIfAny();
        }

        return value!;
    }

    /// <summary>Checks that an enum field holds a declared value other than zero, which stands for "unspecified".</summary>
    /// <typeparam name="T">A generated enum.</typeparam>
    /// <param name="field">The field.</param>
    /// <param name="value">Its value.</param>
    public bool Specified<T>(FieldPath field, T value)
        where T : struct, Enum =>
        Enum.IsDefined(value) && !EqualityComparer<T>.Default.Equals(value, default)
        || Refuse(field, $"is {value}; allowed is one of {string.Join(", ", Enum.GetValues<T>().Skip(1))}");

    /// <summary>
    /// Runs a validating factory of the domain; its refusal becomes a violation. An overflow counts as a value out
    /// of range.
    /// </summary>
    /// <typeparam name="T">What the factory makes.</typeparam>
    /// <param name="field">The field.</param>
    /// <param name="make">The factory.</param>
    /// <returns>The value, or <c>default</c> where a violation was recorded.</returns>
    public T? Check<T>(FieldPath field, Func<T> make)
    {
        try
        {
            return make();
        }
        catch (ArgumentException refusal)
        {
            Add(field, "is refused: " + Sentence(refusal));
        }
        catch (OverflowException)
        {
            Add(field, "is refused: a number goes beyond what 64 bits hold");
        }

        return default;
    }

    /// <summary>Throws when anything was found.</summary>
    /// <exception cref="InvalidRequestException">At least one violation was recorded.</exception>
    public void ThrowIfAny()
    {
        if (!None)
        {
            throw new InvalidRequestException([.. listed], Total);
        }
    }

    // .NET appends "(Parameter 'x')" and "Actual value was y." to the message of an argument exception.
    internal static string Sentence(ArgumentException refusal)
    {
        string text = refusal.Message;
        int end = text.IndexOf(" (Parameter '", StringComparison.Ordinal);
        return (end < 0 ? text : text[..end]).Trim();
    }

    private static string Shorten(string problem) =>
        problem.Length <= MaximumProblemLength ? problem : string.Concat(problem.AsSpan(0, MaximumProblemLength - 1), "…");

    private bool Refuse(FieldPath field, string problem)
    {
        Add(field, problem);
        return false;
    }
}
