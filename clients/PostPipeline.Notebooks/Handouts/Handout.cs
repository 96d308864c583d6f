using System.Text;
using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Live;
using PostPipeline.Notebooks.Pages;
using PostPipeline.Notebooks.Parameters;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Notebooks.Handouts;

/// <summary>
/// A notebook for everyone's phone: one file without need of a network, its controls moving between states that were
/// computed beforehand; with an exercise sheet and its key, drawn from a seed.
/// </summary>
public sealed class Handout
{
    private readonly LiveNotebook live;
    private readonly HandoutGrid grid;
    private readonly NotebookCell[] cells;
    private readonly List<string> texts = [];
    private readonly List<int[]> states = [];

    private Handout(LiveNotebook live, HandoutGrid grid)
    {
        (this.live, this.grid) = (live, grid);
        cells = [.. live.Notebook.Cells.Where(c => c.IsCode && c.Source.Trim().Length > 0 && !c.Has(NotebookCell.ParametersTag))];
    }

    /// <summary>Computes every state of a grid.</summary>
    /// <param name="live">The notebook.</param>
    /// <param name="grid">The states.</param>
    /// <param name="progress">Told the part done.</param>
    /// <param name="stop">Gives up between states.</param>
    public static async Task<Handout> ComputeAsync(LiveNotebook live, HandoutGrid grid, IProgress<double>? progress = null, CancellationToken stop = default)
    {
        Handout handout = new(live, grid);
        Dictionary<string, int> known = [];
        for (int state = 0; state < grid.Count; state++)
        {
            stop.ThrowIfCancellationRequested();
            await live.SetAsync(grid.At(state), _ => { }).ConfigureAwait(false);
            handout.states.Add([.. handout.cells.Select(cell => handout.TextOf(live.ShownBy(cell.Index), known))]);
            progress?.Report((state + 1.0) / grid.Count);
        }

        // The page opens in the notebook's own state.
        await live.SetAsync(live.Parameters.Where(p => p.Kind != ParameterKind.File).ToDictionary(p => p.Name, p => p.Default), _ => { }).ConfigureAwait(false);
        return handout;
    }

    /// <summary>The interactive page.</summary>
    public string ToHtml()
    {
        JsonObject stored = new()
        {
            ["axes"] = new JsonArray([.. grid.Axes.Select(a => new JsonObject { ["name"] = a.Name, ["values"] = Texts(a.Values) })]),
            ["cells"] = new JsonArray([.. cells.Select(c => JsonValue.Create(c.Index))]),
            ["texts"] = Texts(texts),
            ["states"] = new JsonArray([.. states.Select(s => new JsonArray([.. s.Select(i => JsonValue.Create(i))]))]),
        };
        return LivePage.Handout(live, grid, $"<script type=\"application/json\" id=\"grid\">{Html.Json(stored.ToJsonString())}</script>");
    }

    /// <summary>A sheet of exercises, and its key; the same seed makes the same sheet.</summary>
    /// <param name="seed">The seed.</param>
    /// <param name="count">How many exercises.</param>
    /// <param name="withKey">True gives the answers too.</param>
    public string Exercises(long seed, int count, bool withKey)
    {
        StringBuilder body = new();
        body.Append("<h1>").Append(withKey ? "Key: " : "Exercises: ").Append(Html.Text(live.Notebook.Title)).Append("</h1><p class=\"quiet\">Seed ").Append(seed).Append(". Everything not named stays as the handout opens.</p>");
        for (int i = 0; i < Math.Min(count, grid.Count); i++)
        {
            int state = Pick(seed, i);
            body.Append("<section class=\"cell\"><h2>").Append(i + 1).Append(". Set ").Append(Html.Text(string.Join(", ", grid.At(state).Select(v => Named(v.Key, v.Value))))).Append("</h2><ol>");
            foreach (string question in Questions())
            {
                body.Append("<li>").Append(Html.Text(question)).Append(withKey ? string.Empty : "<p class=\"blank\">&nbsp;</p>").Append("</li>");
            }

            body.Append("</ol>");
            for (int c = 0; withKey && c < cells.Length; c++)
            {
                body.Append("<div class=\"outputs\">").Append(texts[states[state][c]]).Append("</div>");
            }

            body.Append("</section>");
        }

        return PageShell.Of(withKey ? "Key" : "Exercises", "<button type=\"button\" data-do=\"large\" aria-pressed=\"false\">Large type</button>", string.Empty, body.ToString(), [PageAssets.Own("page.js")], charts: withKey);
    }

    // Partial shuffle: exercises of one sheet are different states.
    private int Pick(long seed, int exercise)
    {
        int[] order = [.. Enumerable.Range(0, grid.Count)];
        for (int i = 0; i <= exercise; i++)
        {
            int with = i + new RandomStream(seed, RandomPurpose.Exercises, i).NextBelow(order.Length - i);
            (order[i], order[with]) = (order[with], order[i]);
        }

        return order[exercise];
    }

    private string Named(string name, string value)
    {
        ParameterDeclaration p = live.Parameters.First(d => d.Name == name);
        return $"{p.Label} = {value}{(p.Unit.Length > 0 ? " " + p.Unit : string.Empty)}";
    }

    // The questions are the notebook's own: its headings that ask.
    private IEnumerable<string> Questions() => live.Notebook.Cells.Where(c => c.Kind == "markdown")
        .SelectMany(c => MarkdownHtml.Headings(c.Source)).Where(h => h.Level == 2 && h.Text.EndsWith('?')).Select(h => h.Text);

    private int TextOf(string html, Dictionary<string, int> known)
    {
        if (!known.TryGetValue(html, out int at))
        {
            known[html] = at = texts.Count;
            texts.Add(html);
        }

        return at;
    }

    private static JsonArray Texts(IEnumerable<string> texts) => new([.. texts.Select(t => JsonValue.Create(t))]);
}
