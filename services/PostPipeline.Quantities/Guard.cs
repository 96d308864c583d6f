using System.Numerics;
using System.Runtime.CompilerServices;

namespace PostPipeline.Quantities;

/// <summary>Argument checks that say the value and what is allowed.</summary>
public static class Guard
{
    /// <summary>Returns <paramref name="value"/> when it lies in [<paramref name="low"/>, <paramref name="high"/>].</summary>
    /// <typeparam name="T">A number.</typeparam>
    /// <param name="value">The value to check.</param>
    /// <param name="low">The smallest allowed value.</param>
    /// <param name="high">The largest allowed value.</param>
    /// <param name="name">The argument's name, filled in by the compiler.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value lies outside; the message gives value and range.</exception>
    public static T InRange<T>(T value, T low, T high, [CallerArgumentExpression(nameof(value))] string name = "")
        where T : INumber<T> =>
        value >= low && value <= high
            ? value
            : throw new ArgumentOutOfRangeException(name, value, $"{name} is {value}; allowed is {low} to {high}.");

    /// <summary>Returns <paramref name="value"/> when it is finite and lies in the range.</summary>
    /// <param name="value">The value to check.</param>
    /// <param name="low">The smallest allowed value.</param>
    /// <param name="high">The largest allowed value.</param>
    /// <param name="name">The argument's name, filled in by the compiler.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite or lies outside.</exception>
    public static double Finite(double value, double low, double high, [CallerArgumentExpression(nameof(value))] string name = "") =>
        double.IsFinite(value) && value >= low && value <= high
            ? value
            : throw new ArgumentOutOfRangeException(name, value, $"{name} is {value}; allowed is a finite number from {low} to {high}.");
}
