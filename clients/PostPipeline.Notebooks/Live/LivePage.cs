using System.Text;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Handouts;
using PostPipeline.Notebooks.Pages;
using PostPipeline.Notebooks.Parameters;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Notebooks.Runs;

namespace PostPipeline.Notebooks.Live;

/// <summary>The page of a live notebook: the text and outputs of the notebook beside controls for its parameters.</summary>
internal static class LivePage
{
    private const string Bar = """
        <button type="button" data-live="back" disabled>Undo</button> <button type="button" data-live="reset">Reset</button> <button type="button" data-live="freeze" aria-pressed="false">Keep this beside</button> <button type="button" data-live="steps" aria-pressed="false">One part at a time</button> <span class="stepper" hidden><button type="button" data-live="previous">Back</button> <button type="button" data-live="next">Next</button></span> <button type="button" data-do="large" aria-pressed="false">Large type</button> <button type="button" data-do="binary" aria-pressed="false">Binary units</button> <button type="button" data-do="bits" aria-pressed="false">Bits</button> <button type="button" data-do="theme">Light or dark</button>
        """;

    public static string Of(LiveNotebook live, string connect) => Page(live, live.Parameters, connect, string.Empty);

    /// <summary>The same page with computed states inside it in place of a connection; only what varies can be moved.</summary>
    public static string Handout(LiveNotebook live, HandoutGrid grid, string stored) =>
        Page(live, [.. live.Parameters.Where(p => grid.Axes.Any(a => a.Name == p.Name))], string.Empty, stored);

    private static string Page(LiveNotebook live, IReadOnlyList<ParameterDeclaration> parameters, string connect, string stored)
    {
        StringBuilder body = new();
        List<(int Level, string Text, string Id)> contents = [];
        foreach (NotebookCell cell in live.Notebook.Cells)
        {
            if (cell.Kind == "markdown")
            {
                ReportPage.AppendMarkdown(body, cell, contents);
            }
            else if (cell.IsCode && !cell.Has(NotebookCell.ParametersTag))
            {
                string outputs = $"<div class=\"outputs\">{live.ShownBy(cell.Index)}</div>";
                body.Append("<section class=\"cell\" data-cell=\"").Append(cell.Index).Append("\">")
                    .Append(cell.Has(NotebookCell.AnswerTag) ? $"<p class=\"guess\"><label>Your guess <input type=\"text\" maxlength=\"80\" autocomplete=\"off\"></label></p><details class=\"answer\"><summary>Reveal the answer</summary>{outputs}</details>" : outputs)
                    .Append("</section>");
            }
        }

        body.Append("<details class=\"made\"><summary>How this was made</summary>").Append(ReportPage.EndMatter(new([], Versions.Of(live.Notebook)))).Append("</details>");
        return PageShell.Of(live.Notebook.Title, Bar, Controls(parameters), body.Append(stored).ToString(), [PageAssets.Own("page.js"), PageAssets.Own("live.js")], connect);
    }

    /// <summary>The controls, each with its name, unit and bounds; shared with the handout.</summary>
    public static string Controls(IReadOnlyList<ParameterDeclaration> parameters)
    {
        StringBuilder html = new("<form class=\"controls\" aria-label=\"Inputs\" autocomplete=\"off\">");
        foreach (ParameterDeclaration p in parameters)
        {
            Control(html, p);
        }

        return html.Append("<p class=\"state\" role=\"status\" aria-live=\"polite\"></p></form>").ToString();
    }

    private static void Control(StringBuilder html, ParameterDeclaration p)
    {
        string id = "in-" + p.Name;
        string attributes = $"data-parameter=\"{Html.Text(p.Name)}\" data-default=\"{Html.Text(p.Default)}\" data-value=\"{Html.Text(p.Value)}\"";
        html.Append("<div class=\"control\" ").Append(attributes).Append(" data-kind=\"").Append(p.Kind.ToString().ToLowerInvariant()).Append("\">");
        switch (p.Kind)
        {
            case ParameterKind.Number:
                string bounds = $"min=\"{p.Minimum}\" max=\"{p.Maximum}\"";
                html.Append($"<label for=\"{id}\">{Html.Text(p.Label)} <span class=\"unit\">{Html.Text(p.Unit.Equals(p.Label, StringComparison.OrdinalIgnoreCase) ? string.Empty : p.Unit)}</span></label><div class=\"pair\"><input type=\"range\" id=\"{id}\" {bounds} step=\"{p.Step}\" value=\"{p.Value}\"><input type=\"number\" aria-label=\"{Html.Text(p.Label)}, typed\" {bounds} step=\"any\" value=\"{p.Value}\"><button type=\"button\" data-live=\"play\" aria-pressed=\"false\" aria-label=\"Play {Html.Text(p.Label)}\">Play</button></div>");
                break;
            case ParameterKind.Choice:
                html.Append($"<label for=\"{id}\">{Html.Text(p.Label)}</label><select id=\"{id}\">").AppendJoin(string.Empty, p.Options.Select(o => $"<option{(o == p.Value ? " selected" : string.Empty)}>{Html.Text(o)}</option>")).Append("</select>");
                break;
            case ParameterKind.Flag:
                html.Append($"<label class=\"flag\"><input type=\"checkbox\" role=\"switch\" id=\"{id}\"{(p.Value == "true" ? " checked" : string.Empty)}> {Html.Text(p.Label)}</label>");
                break;
            case ParameterKind.Date:
                html.Append($"<label for=\"{id}\">{Html.Text(p.Label)}</label><input type=\"date\" id=\"{id}\" min=\"{p.Minimum}\" max=\"{p.Maximum}\" value=\"{p.Value}\">");
                break;
            case ParameterKind.Text:
                html.Append($"<label for=\"{id}\">{Html.Text(p.Label)}</label><input type=\"text\" id=\"{id}\" maxlength=\"1000\" spellcheck=\"false\" value=\"{Html.Text(p.Value)}\">");
                break;
            default:
                html.Append($"<span class=\"quiet\">{Html.Text(p.Label)}: {Html.Text(p.Value.Length == 0 ? "none" : Path.GetFileName(p.Value))}</span>");
                break;
        }

        html.Append("</div>");
    }
}
