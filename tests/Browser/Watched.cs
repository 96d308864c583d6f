using Microsoft.Playwright;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>A page whose console errors and requests are written down, and what every page of ours must satisfy.</summary>
internal sealed class Watched : IAsyncDisposable
{
    // Relative luminance and contrast as WCAG 2.2 defines them (success criterion 1.4.3, 4.5:1 for text).
    private const string LowContrast = """
        () => {
          const lum = c => { const f = v => { v /= 255; return v <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4); }; return 0.2126 * f(c[0]) + 0.7152 * f(c[1]) + 0.0722 * f(c[2]); };
          const parse = s => (s.match(/[\d.]+/g) || []).map(Number);
          const back = e => { for (; e; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] === 1) return c; } return [255, 255, 255]; };
          const bad = [];
          const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
          while (walk.nextNode()) {
            const e = walk.currentNode.parentElement;
            if (!walk.currentNode.textContent.trim() || !e.getClientRects().length || e.closest('script,style,svg,:disabled')) continue;
            const a = lum(parse(getComputedStyle(e).color)), b = lum(back(e));
            const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
            if (ratio < 4.5) bad.push(ratio.toFixed(2) + ' ' + walk.currentNode.textContent.trim().slice(0, 40));
          }
          document.querySelectorAll('svg text').forEach(t => {
            if (!t.textContent.trim() || t.closest('.bars,.barlayer')) return;
            const a = lum(parse(getComputedStyle(t).fill)), b = lum(back(t.closest('.pp-plot')));
            const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
            if (ratio < 4.5) bad.push(ratio.toFixed(2) + ' chart ' + t.textContent);
          });
          return bad;
        }
        """;

    private const string Overflow = """
        () => document.documentElement.scrollWidth > document.documentElement.clientWidth
          ? [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && !e.closest('.scroll,svg,pre')).slice(0, 5).map(e => e.tagName + '.' + e.className) : []
        """;

    // The library shows a bar (of 6 px or so) beside a legend that has more than it shows.
    private const string ScrolledLegends = """
        () => [...document.querySelectorAll('.pp-plot .legend .scrollbar')].filter(b => b.getBoundingClientRect().height > 0).map(b => b.closest('figure').querySelector('figcaption').textContent)
        """;

    private readonly bool kept;

    private Watched(IPage page, bool kept) => (Page, this.kept) = (page, kept);

    /// <summary>Of a phone, a tablet and a projector, in CSS pixels.</summary>
    public static int[] Widths => [390, 1024, 1920];

    public IPage Page { get; }

    public List<string> Errors { get; } = [];

    public List<string> Requests { get; } = [];

    /// <summary>A new tab.</summary>
    /// <param name="context">Where; it ends with the tab.</param>
    /// <param name="kept">True leaves the tab open for the next test; whoever made the context ends it.</param>
    public static async Task<Watched> NewAsync(IBrowserContext context, bool kept = false)
    {
        Watched watched = new(await context.NewPageAsync(), kept);
        watched.Page.SetDefaultTimeout(120_000);
        watched.Page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
            {
                watched.Errors.Add(message.Text);
            }
        };
        watched.Page.PageError += (_, error) => watched.Errors.Add(error);
        watched.Page.Request += (_, request) => watched.Requests.Add(request.Url);
        return watched;
    }

    /// <summary>Nothing was written to the console, and nothing was asked of anybody but the page's own file or its own address on loopback.</summary>
    public void IsQuiet()
    {
        Assert.Empty(Errors);
        Uri own = new(Page.Url);
        Assert.All(Requests, url => Assert.True(
            new Uri(url) is var to && (to.Scheme is "data" or "blob" || (own.IsFile ? to.IsFile : to.Scheme is "http" or "ws" && to.Authority == own.Authority && to.Host == "127.0.0.1")),
            url));
    }

    public async ValueTask DisposeAsync()
    {
        if (!kept)
        {
            await Page.Context.CloseAsync();
        }
    }

    /// <summary>Forgets what an earlier test wrote down.</summary>
    public void Begin()
    {
        Errors.Clear();
        Requests.Clear();
    }

    /// <summary>The first chart as it was given to the page, once nothing is being computed.</summary>
    public async Task<string> FirstChartAsync()
    {
        await Page.WaitForSelectorAsync("html[data-settled='1']");
        return await Page.EvaluateAsync<string>("() => JSON.stringify(document.querySelector('#main .pp-plot').ppFigure)");
    }

    /// <summary>Every chart on the page has been drawn and has something in it.</summary>
    public async Task EveryChartIsDrawnAsync(int atLeast)
    {
        await Page.EvaluateAsync("() => { document.querySelectorAll('details.answer').forEach(d => d.open = true); }");
        await Page.WaitForFunctionAsync("() => [...document.querySelectorAll('.pp-plot')].every(p => p.dataset.drawn && p.querySelector('svg.main-svg'))");
        int[] marks = await Page.EvaluateAsync<int[]>("() => [...document.querySelectorAll('.pp-plot')].map(p => p.querySelectorAll('.trace, .point, .js-line').length)");
        Assert.True(marks.Length >= atLeast, $"{marks.Length} charts on the page, {atLeast} expected");
        Assert.DoesNotContain(0, marks);
    }

    /// <summary>A picture of the whole page, for people to look at, where POSTPIPELINE_PICTURES names a folder.</summary>
    public async Task PictureAsync(object name)
    {
        if (Environment.GetEnvironmentVariable("POSTPIPELINE_PICTURES") is { Length: > 0 } folder)
        {
            string title = string.Concat((await Page.TitleAsync()).Where(char.IsLetterOrDigit));
            await Page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{title}-{(Page.Url.StartsWith("file:", StringComparison.Ordinal) ? "file" : "live")}-{name}.png"), FullPage = true });
        }
    }

    /// <summary>
    /// A part of the page as it stands in docs/pictures, where POSTPIPELINE_PICTURES names a folder: the top, or from the first
    /// to the last of the charts that are named.
    /// </summary>
    public async Task PartAsync(string name, params string[] charts)
    {
        if (Environment.GetEnvironmentVariable("POSTPIPELINE_PICTURES") is not { Length: > 0 } folder)
        {
            return;
        }

        await Page.SetViewportSizeAsync(1280, 1500);
        await Page.EvaluateAsync("() => { document.documentElement.setAttribute('data-theme', 'light'); window.scrollTo(0, 0); return window.postpipelinePage.draw(); }");
        PageScreenshotOptions options = new() { Path = Path.Combine(folder, name + ".png"), FullPage = charts.Length > 0 };
        List<LocatorBoundingBoxResult> boxes = [];
        foreach (string chart in charts)
        {
            boxes.Add((await Page.Locator("figure.chart").Filter(new() { HasText = chart }).First.BoundingBoxAsync())!);
        }

        if (boxes.Count > 0)
        {
            (float left, float top) = (boxes.Min(b => b.X) - 12, boxes.Min(b => b.Y) - 12);
            options.Clip = new() { X = left, Y = top, Width = boxes.Max(b => b.X + b.Width) + 12 - left, Height = boxes.Max(b => b.Y + b.Height) + 12 - top };
        }

        await Page.ScreenshotAsync(options);
    }

    /// <summary>The page as it is printed on A4, for people to look at, where POSTPIPELINE_PICTURES names a folder.</summary>
    public async Task PrintAsync()
    {
        if (Environment.GetEnvironmentVariable("POSTPIPELINE_PICTURES") is { Length: > 0 } folder)
        {
            string title = string.Concat((await Page.TitleAsync()).Where(char.IsLetterOrDigit));
            await Page.PdfAsync(new() { Path = Path.Combine(folder, title + ".pdf"), Format = "A4", PreferCSSPageSize = true });
        }
    }

    /// <summary>What <see cref="FitsAsync"/> says, and all text is legible in light and dark.</summary>
    /// <param name="widths">Of the window; all where none is given.</param>
    public async Task FitsAndReadsAsync(params int[] widths)
    {
        await FitsAsync(widths);
        foreach (string theme in new[] { "light", "dark" })
        {
            await Page.EvaluateAsync("theme => { document.documentElement.setAttribute('data-theme', theme); return window.postpipelinePage.draw(); }", theme);
            string[] low = await Page.EvaluateAsync<string[]>(LowContrast);
            Assert.True(low.Length == 0, $"{theme}: text below 4.5:1: {string.Join("; ", low)}");
        }
    }

    /// <summary>Nothing overflows at the widths of a phone, a tablet and a projector, and no legend must be scrolled.</summary>
    /// <param name="widths">Of the window; all where none is given.</param>
    public async Task FitsAsync(params int[] widths)
    {
        foreach (int width in widths.Length > 0 ? widths : Widths)
        {
            await Page.SetViewportSizeAsync(width, 900);
            await Page.EvaluateAsync("() => window.postpipelinePage.draw()");
            await PictureAsync(width);
            string[] over = await Page.EvaluateAsync<string[]>(Overflow);
            Assert.True(over.Length == 0, $"at {width} px these overflow: {string.Join(", ", over)}");
            string[] scrolled = await Page.EvaluateAsync<string[]>(ScrolledLegends);
            Assert.True(scrolled.Length == 0, $"at {width} px a legend must be scrolled: {string.Join(", ", scrolled)}");
        }
    }
}
