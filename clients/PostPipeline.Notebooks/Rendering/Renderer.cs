using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Documents;

namespace PostPipeline.Notebooks.Rendering;

/// <summary>Turns a value into what a notebook stores of it. One place for every way of running a notebook, so that all show the same.</summary>
public static partial class Renderer
{
    private const int MostRows = 1_000;

    /// <summary>The representations of a value.</summary>
    /// <param name="value">A figure, table, text, caution, derivation, a quantity, range, outcome or finding, a list of rows, or anything else (shown as its text).</param>
    public static MimeBundle ToBundle(object? value) => value switch
    {
        null => MimeBundle.OfText("nothing"),
        MimeBundle bundle => bundle,
        Figure figure => OfFigure(figure),
        NumberTable table => OfTable(table),
        Markdown markdown => new(new Dictionary<string, string> { [MimeBundle.Markdown] = markdown.Text, [MimeBundle.PlainText] = markdown.Text }),
        Caution caution => new(new Dictionary<string, string> { [MimeBundle.Html] = $"<p class=\"caution\" role=\"note\"><strong>Caution.</strong> {Html.Text(caution.Text)}</p>", [MimeBundle.PlainText] = "Caution. " + caution.Text }),
        Derivation derivation => new(new Dictionary<string, string> { [MimeBundle.Html] = OfDerivation(derivation, open: true), [MimeBundle.PlainText] = Plain(derivation, 0) }),
        string text => MimeBundle.OfText(text),
        double number => MimeBundle.OfText(Say.Number(number)),
        _ when OwnTypes.Shown(value) is object shown => ToBundle(shown),
        IFormattable formattable => MimeBundle.OfText(formattable.ToString(null, CultureInfo.InvariantCulture)),
        IEnumerable rows when RowsOf(rows) is NumberTable table => OfTable(table),
        IEnumerable items => MimeBundle.OfText(string.Join(Environment.NewLine, items.Cast<object?>().Take(MostRows).Select(NumberTable.Read))),
        _ => MimeBundle.OfText(value.ToString() ?? string.Empty),
    };

    private static MimeBundle OfFigure(Figure figure)
    {
        JsonObject json = TableJson(figure.Table);
        json["title"] = figure.Title;
        json["summary"] = figure.Summary;
        json["height"] = figure.Height;
        string own = json.ToJsonString();
        string withChart = own[..^1] + ",\"chart\":" + figure.ToJson() + "}";
        return new(new Dictionary<string, string>
        {
            [MimeBundle.Figure] = withChart,
            [MimeBundle.PlainText] = figure.Title + "\n" + figure.Summary,
        });
    }

    private static MimeBundle OfTable(NumberTable table)
    {
        JsonObject json = TableJson(table);
        json["title"] = table.Title;
        string text = json.ToJsonString();
        return new(new Dictionary<string, string>
        {
            [MimeBundle.Table] = text,
            [MimeBundle.Html] = TableHtml.Of(TableContent.Parse(text)),
            [MimeBundle.PlainText] = table.Title + "\n" + table.ToCsv(),
        });
    }

    private static JsonObject TableJson(NumberTable table) => new()
    {
        ["columns"] = new JsonArray([.. table.Columns.Select(c => JsonValue.Create(c))]),
        ["numeric"] = new JsonArray([.. Enumerable.Range(0, table.Columns.Count).Select(i => JsonValue.Create(table.IsNumeric(i)))]),
        ["rows"] = new JsonArray([.. table.Rows.Take(MostRows).Select(row => new JsonArray([.. row.Select(cell => JsonValue.Create(NumberTable.Read(cell)))]))]),
        ["rowCount"] = table.Rows.Count,
        ["csv"] = table.ToCsv(),
    };

    private static NumberTable? RowsOf(IEnumerable rows)
    {
        object?[] items = [.. rows.Cast<object?>().Take(MostRows)];
        Type? type = items.FirstOrDefault(item => item is not null)?.GetType();
        if (type is null || type.IsPrimitive || type == typeof(string) || items.Any(item => item?.GetType() != type))
        {
            return null;
        }

        PropertyInfo[] columns = [.. type.GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.GetIndexParameters().Length == 0)];
        return columns.Length is 0 or > 30
            ? null
            : new(string.Empty, [.. columns.Select(c => c.Name)], [.. items.Select(item => (IReadOnlyList<object?>)[.. columns.Select(c => c.GetValue(item))])]);
    }

    private static string OfDerivation(Derivation derivation, bool open)
    {
        string head = $"<span class=\"what\">{Html.Text(derivation.Name)}</span> = <strong>{Html.Text(Grouped(derivation.Value))}</strong>"
            + (derivation.Formula.Length > 0 ? $" <code>{Html.Text(Grouped(derivation.Formula))}</code>" : string.Empty)
            + (derivation.Source.Length > 0 ? $" <span class=\"source\">{Html.Text(derivation.Source)}</span>" : string.Empty);
        return derivation.Inputs.Count == 0
            ? $"<div class=\"derivation\">{head}</div>"
            : $"<details class=\"derivation\"{(open ? " open" : string.Empty)}><summary>{head}</summary>{string.Concat(derivation.Inputs.Select(input => OfDerivation(input, open: false)))}</details>";
    }

    // Exact numbers keep all their digits, in groups of three so that they can be read; the two sides of a rate such as 24000/1001 stay as they are.
    private static string Grouped(string text) => LongNumber().Replace(text, number => decimal.Parse(number.Value, CultureInfo.InvariantCulture).ToString("N0", CultureInfo.InvariantCulture));

    [GeneratedRegex(@"(?<![\w.,/])\d{5,27}(?![.,/]\d|\w)", RegexOptions.CultureInvariant)]
    private static partial Regex LongNumber();

    private static string Plain(Derivation derivation, int depth)
    {
        StringBuilder text = new();
        text.Append(' ', depth * 2).Append(derivation.Name).Append(" = ").Append(derivation.Value).Append("  ").Append(derivation.Formula).Append("  ").AppendLine(derivation.Source);
        foreach (Derivation input in derivation.Inputs)
        {
            text.Append(Plain(input, depth + 1));
        }

        return text.ToString();
    }
}
