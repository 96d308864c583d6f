using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Pages;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Runs;

/// <summary>A notebook that ran, whole or in part.</summary>
/// <param name="Notebook">The notebook.</param>
/// <param name="Cells">The cells that ran, in order.</param>
/// <param name="Record">What the run was, and what ended it early.</param>
public sealed record RunResult(NotebookFile Notebook, IReadOnlyList<ExecutedCell> Cells, RunRecord Record)
{
    /// <summary>How long the parts of the run took, in order; not part of any report.</summary>
    public IReadOnlyList<PartTime> Times { get; init; } = [];

    /// <summary>Whether every cell ended without an error.</summary>
    public bool IsComplete => Record.Problem is null;

    /// <summary>The report as one HTML file.</summary>
    public string ToHtml() => ReportPage.Of(Notebook, Cells, Record);

    /// <summary>The executed notebook. Where it holds a chart, plotly.js stands once in front of the first, so that a viewer needs no network.</summary>
    public string ToNotebook()
    {
        int first = Cells.ToList().FindIndex(cell => cell.Outputs.Any(output => output is CellOutput.Value value && value.Bundle[MimeBundle.Figure] is not null));
        if (first < 0)
        {
            return Notebook.ToJson(Cells, Record);
        }

        CellOutput library = new CellOutput.Value(new(new Dictionary<string, string> { [MimeBundle.Html] = FigureHtml.Library(), [MimeBundle.PlainText] = "plotly.js " + PageAssets.PlotlyVersion }), false);
        ExecutedCell[] cells = [.. Cells.Select((cell, index) => index == first ? cell with { Outputs = [library, .. cell.Outputs] } : cell)];
        return Notebook.ToJson(cells, Record);
    }

    /// <summary>Writes the report or the executed notebook, to a temporary name first.</summary>
    /// <param name="path">Ends in .html or .ipynb.</param>
    /// <exception cref="ArgumentException">Another ending.</exception>
    public void WriteTo(string path)
    {
        string content = Path.GetExtension(path).ToLowerInvariant() switch
        {
            ".html" or ".htm" => ToHtml(),
            ".ipynb" => ToNotebook(),
            _ => throw new ArgumentException($"'{path}' ends in neither .html nor .ipynb", nameof(path)),
        };
        string folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        Directory.CreateDirectory(folder);
        string temporary = Path.Combine(folder, "." + Path.GetFileName(path) + "." + Environment.ProcessId.ToString(System.Globalization.CultureInfo.InvariantCulture) + ".part");
        try
        {
            File.WriteAllText(temporary, content);
            File.Move(temporary, path, overwrite: true);
        }
        finally
        {
            File.Delete(temporary);
        }
    }
}
