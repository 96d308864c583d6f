using System.Globalization;

namespace PostPipeline.Notebooks.Parameters;

/// <summary>
/// The values asked for in a run, and what the notebook declares when its parameters cell runs. A value is read only
/// against a declaration: typed, in range, never code.
/// </summary>
public sealed class ParameterSet
{
    /// <summary>The most parameters in a notebook.</summary>
    public const int Maximum = 60;

    private const int LongestText = 1_000;
    private readonly Dictionary<string, string> asked;
    private readonly List<ParameterDeclaration> declared = [];
    private readonly Dictionary<string, string> notes = new(StringComparer.Ordinal);

    /// <summary>Values asked for, by name; none for the notebook's own.</summary>
    /// <param name="asked">Name to text.</param>
    /// <exception cref="ParameterException">Too many, or a text is too long.</exception>
    public ParameterSet(IReadOnlyDictionary<string, string>? asked = null)
    {
        this.asked = new(asked ?? new Dictionary<string, string>(), StringComparer.Ordinal);
        if (this.asked.Count > Maximum)
        {
            throw new ParameterException($"{this.asked.Count} parameters are set; allowed are up to {Maximum}");
        }

        foreach ((string name, string value) in this.asked)
        {
            if (value.Length > LongestText)
            {
                throw new ParameterException($"parameter {name}: the value has {value.Length} characters; allowed are up to {LongestText}");
            }
        }
    }

    /// <summary>What the cells wrote down to make their numbers again, such as a seed.</summary>
    internal IReadOnlyDictionary<string, string> Notes => notes;

    /// <summary>What was declared so far, in order.</summary>
    public IReadOnlyList<ParameterDeclaration> Declared => declared;

    /// <summary>Checks values against declarations that are known already, without running anything.</summary>
    /// <param name="declarations">The declarations.</param>
    /// <param name="asked">Values asked for, by name.</param>
    /// <returns>The declarations with these values.</returns>
    /// <exception cref="ParameterException">A value is not allowed, or a name is not declared.</exception>
    public static IReadOnlyList<ParameterDeclaration> Check(IReadOnlyList<ParameterDeclaration> declarations, IReadOnlyDictionary<string, string> asked)
    {
        ParameterSet set = new(asked);
        foreach (ParameterDeclaration d in declarations)
        {
            switch (d.Kind)
            {
                case ParameterKind.Number:
                    set.Number(d.Name, d.Label, Read(d.Default), Read(d.Minimum), Read(d.Maximum), Read(d.Step), d.Unit);
                    break;
                case ParameterKind.Choice:
                    set.Choice(d.Name, d.Label, d.Default, d.Options);
                    break;
                case ParameterKind.Flag:
                    set.Flag(d.Name, d.Label, bool.Parse(d.Default));
                    break;
                case ParameterKind.Date:
                    set.Date(d.Name, d.Label, ReadDate(d.Default), ReadDate(d.Minimum), ReadDate(d.Maximum));
                    break;
                case ParameterKind.Text:
                    set.Text(d.Name, d.Label, d.Default);
                    break;
                default:
                    set.File(d.Name, d.Label, d.Default);
                    break;
            }
        }

        set.RefuseUnknown();
        return set.Declared;
    }

    /// <summary>Refuses values for parameters that the notebook does not have.</summary>
    /// <exception cref="ParameterException">A name was not declared.</exception>
    public void RefuseUnknown()
    {
        string? unknown = asked.Keys.Order(StringComparer.Ordinal).FirstOrDefault(name => declared.All(d => d.Name != name));
        if (unknown is not null)
        {
            string allowed = declared.Count == 0 ? "it declares none" : "allowed are " + string.Join(", ", declared.Select(d => d.Name));
            throw new ParameterException($"parameter {unknown} is not declared in the notebook; {allowed}");
        }
    }

    internal double Number(string name, string label, double value, double min, double max, double step, string unit)
    {
        if (!double.IsFinite(value) || !double.IsFinite(min) || !double.IsFinite(max) || !(step > 0) || min > max || value < min || value > max)
        {
            throw new ParameterException($"parameter {name}: declared as {Text(value)} in {Text(min)} to {Text(max)}, step {Text(step)}; the value must lie inside and the step above 0");
        }

        double now = value;
        if (asked.TryGetValue(name, out string? text)
            && (!double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out now) || !double.IsFinite(now) || now < min || now > max))
        {
            throw new ParameterException($"parameter {name}: '{text}' is not allowed; a number from {Text(min)} to {Text(max)}{(unit.Length > 0 ? " " + unit : string.Empty)} is");
        }

        Declare(new(name, ParameterKind.Number, label, Text(value), Text(now), Text(min), Text(max), Text(step), unit, []));
        return now;
    }

    internal string Choice(string name, string label, string value, IReadOnlyList<string> options)
    {
        string now = asked.GetValueOrDefault(name, value);
        if (!options.Contains(value) || !options.Contains(now))
        {
            throw new ParameterException($"parameter {name}: '{(options.Contains(value) ? now : value)}' is not allowed; one of {string.Join(", ", options)} is");
        }

        Declare(new(name, ParameterKind.Choice, label, value, now, string.Empty, string.Empty, string.Empty, string.Empty, options));
        return now;
    }

    internal bool Flag(string name, string label, bool value)
    {
        bool now = value;
        if (asked.TryGetValue(name, out string? text) && !bool.TryParse(text, out now))
        {
            throw new ParameterException($"parameter {name}: '{text}' is not allowed; true or false is");
        }

        Declare(new(name, ParameterKind.Flag, label, Text(value), Text(now), string.Empty, string.Empty, string.Empty, string.Empty, []));
        return now;
    }

    internal DateOnly Date(string name, string label, DateOnly value, DateOnly min, DateOnly max)
    {
        DateOnly now = value;
        bool read = !asked.TryGetValue(name, out string? text) || DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out now);
        if (!read || now < min || now > max || value < min || value > max)
        {
            throw new ParameterException($"parameter {name}: '{text ?? Text(value)}' is not allowed; a date from {Text(min)} to {Text(max)}, written year-month-day, is");
        }

        Declare(new(name, ParameterKind.Date, label, Text(value), Text(now), Text(min), Text(max), string.Empty, string.Empty, []));
        return now;
    }

    internal string Text(string name, string label, string value)
    {
        string now = asked.GetValueOrDefault(name, value);
        if (value.Any(char.IsControl) || now.Any(char.IsControl))
        {
            throw new ParameterException($"parameter {name}: it holds a control character; one line of text is allowed");
        }

        Declare(new(name, ParameterKind.Text, label, value, now, string.Empty, string.Empty, string.Empty, string.Empty, []));
        return now;
    }

    internal void Note(string name, string value) => notes[name] = value;

    internal string File(string name, string label, string value)
    {
        string now = asked.GetValueOrDefault(name, value);
        if (now.Length > 0 && !System.IO.File.Exists(now))
        {
            throw new ParameterException($"parameter {name}: the file '{now}' is not there");
        }

        Declare(new(name, ParameterKind.File, label, value, now, string.Empty, string.Empty, string.Empty, string.Empty, []));
        return now;
    }

    private static double Read(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static DateOnly ReadDate(string text) => DateOnly.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string Text(bool value) => value ? "true" : "false";

    private static string Text(DateOnly value) => value.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private void Declare(ParameterDeclaration declaration)
    {
        if (declaration.Name.Length is 0 or > 40 || !declaration.Name.All(c => char.IsAsciiLetterOrDigit(c) || c is '_' or '-'))
        {
            throw new ParameterException($"parameter '{declaration.Name}': allowed are 1 to 40 letters, digits, _ and -");
        }

        if (declared.Any(d => d.Name == declaration.Name) || declared.Count == Maximum)
        {
            throw new ParameterException($"parameter {declaration.Name}: declared twice, or more than {Maximum} in all");
        }

        declared.Add(declaration);
    }
}
