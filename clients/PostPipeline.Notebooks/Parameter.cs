using System.Globalization;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Notebooks;

/// <summary>
/// Declares what can be changed in a notebook without editing it. Used in the cell tagged <c>parameters</c> and nowhere
/// else; the command line, the live page and the handout read their inputs from these declarations.
/// </summary>
public static class Parameter
{
    /// <summary>A number between two bounds: a slider with a typed value beside it.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The notebook's own value.</param>
    /// <param name="min">The lowest value.</param>
    /// <param name="max">The highest value.</param>
    /// <param name="step">The step of the slider, above 0; a typed value may lie between steps.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="label">What people read beside it; the name where empty.</param>
    /// <returns>The value of this run.</returns>
    /// <exception cref="ParameterException">The value asked for is not a number, or out of range.</exception>
    public static double Number(string name, double value, double min, double max, double step = 1, string unit = "", string label = "") =>
        Set.Number(name, Label(label, name), value, min, max, step, unit);

    /// <summary>One of a list.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The notebook's own value.</param>
    /// <param name="options">What is allowed.</param>
    /// <param name="label">What people read beside it; the name where empty.</param>
    /// <returns>The value of this run.</returns>
    /// <exception cref="ParameterException">The value asked for is not in the list.</exception>
    public static string Choice(string name, string value, string[] options, string label = "") =>
        Set.Choice(name, Label(label, name), value, options);

    /// <summary>Yes or no: a switch.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The notebook's own value.</param>
    /// <param name="label">What people read beside it; the name where empty.</param>
    /// <returns>The value of this run.</returns>
    /// <exception cref="ParameterException">The value asked for is neither true nor false.</exception>
    public static bool Flag(string name, bool value, string label = "") => Set.Flag(name, Label(label, name), value);

    /// <summary>A calendar date between two bounds.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The notebook's own value, year-month-day.</param>
    /// <param name="min">The first date.</param>
    /// <param name="max">The last date.</param>
    /// <param name="label">What people read beside it; the name where empty.</param>
    /// <returns>The value of this run.</returns>
    /// <exception cref="ParameterException">The value asked for is not a date, or out of range.</exception>
    public static DateOnly Date(string name, string value, string min, string max, string label = "") =>
        Set.Date(name, Label(label, name), Read(value), Read(min), Read(max));

    /// <summary>One line of text, such as the name of a column. It is a value and never code.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The notebook's own value; may be empty.</param>
    /// <param name="label">What people read beside it; the name where empty.</param>
    /// <returns>The value of this run; may be empty.</returns>
    /// <exception cref="ParameterException">The value asked for holds a control character.</exception>
    public static string Text(string name, string value = "", string label = "") => Set.Text(name, Label(label, name), value);

    /// <summary>A file of the person who runs the notebook. It is named on the command line only: a page shows it and cannot change it.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The notebook's own file; may be empty.</param>
    /// <param name="label">What people read beside it; the name where empty.</param>
    /// <returns>The path of this run; may be empty.</returns>
    /// <exception cref="ParameterException">There is no such file.</exception>
    public static string File(string name, string value = "", string label = "") => Set.File(name, Label(label, name), value);

    private static ParameterSet Set => CellContext.Current?.Parameters ?? new ParameterSet();

    private static string Label(string label, string name) => label.Length > 0 ? label : name;

    private static DateOnly Read(string text) => DateOnly.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture);
}
