using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Slates.Planning;

/// <summary>A generated project before the farm's load is known. All numbers are invented.</summary>
internal sealed record Draft
{
    private const int Transcode = 0;
    private const int Proxy = 1;
    private const int Native = 2;
    private static readonly string[] Names = ["transcode", "proxy", "native"];

    // Shares of a full transcode, of a final render, of originals online, by pipeline.
    private static readonly double[] NodeShares = [1.0, 0.35, 0.2];
    private static readonly double[] RenderShares = [1.0, 1.0, 1.25];
    private static readonly double[] OnlineShares = [1.0, 0.3, 1.3];

    public required double Size { get; init; }

    public required int Ingest { get; init; }

    public required int Edit { get; init; }

    public required int Conform { get; init; }

    public required int Grade { get; init; }

    public required int Check { get; init; }

    public required int Terabytes { get; init; }

    public required double Place { get; init; }

    public required double Slack { get; init; }

    public required int Weight { get; init; }

    public required long[] Money { get; init; }

    public int Cheapest => Array.IndexOf(Money, Money.Min());

    /// <summary>Half-days of the people's stages, weekends in, to size things by.</summary>
    public double Length => (Ingest + Edit + (1.5 * Conform) + Grade + Check) * 1.4;

    public static Draft Of(ref RandomStream random)
    {
        double size = Math.Exp((random.NextUnit() * 1.6) - 0.8);
        double price = size * 60_000;
        return new()
        {
            Size = size,
            Ingest = 2 + random.NextBelow(3),
            Edit = 20 + random.NextBelow(31),
            Conform = 2 + random.NextBelow(5),
            Grade = 4 + random.NextBelow(9),
            Check = 1 + random.NextBelow(2),
            Terabytes = (int)Math.Ceiling(size * 40),
            Place = random.NextUnit(),
            Slack = 1.3 + (random.NextUnit() * 0.6),
            Weight = 1 + random.NextBelow(5),
            Money = [(long)(price * (0.85 + (0.3 * random.NextUnit()))), (long)(price * (0.95 + (0.4 * random.NextUnit()))), (long)(price * (0.95 + (0.35 * random.NextUnit())))],
        };
    }

    public double NodeWork(int pipeline) => Size * NodeShares[pipeline];

    public double GraphicsWork(int pipeline) => Size * RenderShares[pipeline];

    public double AssistantSlots(int pipeline) => Ingest + ConformSlots(pipeline) + Check;

    public static double OnlineShare(int pipeline) => OnlineShares[pipeline];

    public SlateProject ToProject(string name, int slots, long nodes, long graphics, double nodeScale, double graphicsScale)
    {
        double farm = (Size * nodeScale / nodes) + (Size * graphicsScale / graphics);
        int length = (int)Math.Ceiling((Length + (farm * 1.5)) * Slack);
        int release = (int)(Place * Math.Max(0, slots - length));
        return new(name, Math.Min(slots, release + length), [.. Enumerable.Range(0, Names.Length).Select(p => ToOption(p, nodes, graphics, nodeScale, graphicsScale))])
        {
            Release = release,
            Weight = Weight,
        };
    }

    private int ConformSlots(int pipeline) => pipeline == Proxy ? 2 * Conform : pipeline == Native ? Math.Max(1, Conform / 2) : Conform;

    private SlateOption ToOption(int pipeline, long nodes, long graphics, double nodeScale, double graphicsScale)
    {
        double work = NodeWork(pipeline) * nodeScale;
        int edit = pipeline == Native ? Edit + (Edit / 8) : Edit;
        List<SlateStage> stages = [new("ingest") { Duration = Ingest, Uses = [new("assistants", 1), new("link", 1)] }];
        string before = "ingest";
        if (pipeline != Native)
        {
            before = pipeline == Transcode ? "transcode" : "proxies";
            stages.Add(Farm(before, "ingest", "nodes", pipeline == Transcode ? work : work * 0.5, nodes));
        }

        stages.Add(new("edit") { After = [new(before)], Duration = edit, Calendar = "weekdays" });
        stages.Add(new("conform") { After = [new("edit")], Duration = ConformSlots(pipeline), Uses = [new("assistants", 1)] });
        if (pipeline != Transcode)
        {
            stages.Add(Farm(pipeline == Proxy ? "pull" : "caches", "edit", "nodes", pipeline == Proxy ? work * 0.5 : work, nodes));
        }

        stages.Add(new("grade")
        {
            After = pipeline == Transcode ? [new("conform")] : [new("conform"), new(stages[^1].Name)],
            Duration = Grade,
            Uses = [new("colourists", 1), new("grading suites", 1)],
        });
        stages.Add(Farm("final render", "grade", "graphics nodes", GraphicsWork(pipeline) * graphicsScale, graphics, "render licences"));
        stages.Add(new("check") { After = [new("final render")], Duration = Check, Uses = [new("assistants", 1)] });
        long online = (long)Math.Ceiling(Terabytes * OnlineShares[pipeline]);
        List<GenerationLife> lives = pipeline == Transcode
            ? [new("mezzanine", "online", online, "transcode", "check", 14)]
            : pipeline == Proxy
                ? [new("proxies", "online", Math.Max(1, online / 4), "proxies", "check"), new("pull", "online", online, "pull", "check", 14)]
                : [new("originals", "online", online, "ingest", "check", 14)];
        return new(Names[pipeline], stages) { Lives = lives, Money = Money[pipeline] };
    }

    private static SlateStage Farm(string name, string after, string resource, double work, long nodes, string? perNode = null) =>
        new(name)
        {
            After = [new(after)],
            Farm =
            [
                new(resource, work, [.. new[] { nodes / 8, nodes / 4, nodes / 2, nodes }.Select(n => (int)Math.Max(1, n)).Distinct()])
                {
                    PerNode = perNode is null ? [] : [new(perNode, 1)],
                },
            ],
        };
}
