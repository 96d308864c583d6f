using PostPipeline.Flows;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// Turns a pipeline's name into its graph of stages, its generations and its costs. Common to all: shoot and offload,
/// sync, edit to lock, grade, final render, checking, rounds of review, and what the brief asks for beside. Between them
/// stands what makes the pipeline.
/// </summary>
internal sealed partial class PipelineDraft(PipelineBuilder b, string name)
{
    private const int Shoot = 0;
    private readonly List<Stage> stages = [];
    private readonly List<Generation> generations = [];
    private readonly List<CostItem> costs = [];
    private readonly int caches = b.Place("caches");
    private readonly int editAfterMaterial = b.Place("edit.after_material");
    private readonly int editLock = b.Place("edit.lock");
    private readonly int editLockSlip = b.Place("edit.lock_slip");
    private readonly int finishSync = b.Place("finish.sync");
    private readonly int selects = b.Place("selects");
    private readonly FarmWork render = b.Farm(name == "transcode" ? "render-mezzanine" : "render-originals");
    private int farmStage = -1;
    private string farmKind = string.Empty;
    private Func<Scope, int, double>? farmShare;

    private string RenderKind => name == "transcode" ? "render-mezzanine" : "render-originals";

    private bool IsProxy => name.StartsWith("proxy", StringComparison.Ordinal);

    private bool IsNative => name is "native" or "native-cached" or "transcode-off-speed";

    public PipelinePlan Build()
    {
        Add(new ShootStage());
        int sync = Add(new StreamStage("sync and logging", "assistants", StageTags.None, b.People, SyncWork, Means("people.assistants"), null, -1, Shoot));
        List<int> editable = [sync];
        AddViewing();
        int leading = stages.Count;
        AddMaterial(editable);
        int edit = Add(new EditStage(b.Clock, LockAt, s => s.X[editLockSlip], s => s.X[editAfterMaterial], [.. editable]));
        List<int> gradable = [AddTurnoversAndConform(edit)];
        AddEffects(edit, editable, gradable);
        int final = AddFinish(gradable);
        AddCosts(edit);
        int keep = b.Place("storage.keep");
        return new(name, stages, generations, costs, farmStage, final, s => s.X[keep] * Calendar.Day, NodesPerSpeed)
        {
            Leading = leading,
            FarmKind = farmKind,
            FarmShare = farmShare,
            RenderKind = RenderKind,
        };
    }

    private int Add(Stage stage)
    {
        stages.Add(stage);
        return stages.Count - 1;
    }

    // People of their own, so that nobody is counted twice. Nothing waits for viewing copies.
    private void AddViewing()
    {
        if (b.Brief.Viewing is not { } viewing)
        {
            return;
        }

        int look = b.Place("viewing.look");
        int copies = b.Place("viewing.copies");
        double bytesPerSecond = viewing.Rate.BytesPerSecond.ToDouble();
        int made = Add(new StreamStage(
            "look and viewing copies", "viewing", StageTags.None, b.People, (s, day) => s.DayHours[day] * (s.X[look] + s.X[copies]) * 3600, Means("people.viewing"), null, -1, Shoot)
        { KeepsDays = true });
        int link = b.Place("viewing.link");
        Add(new StreamStage(
            "send viewing copies", "link", StageTags.None, Windows.Always, (s, day) => s.DayHours[day] * 3600 * bytesPerSecond, s => s.X[link] * SharingProtocol, null, -1, made)
        { From = made });
        generations.Add(new("viewing copies", 0, s => s.Hours * 3600 * bytesPerSecond, made, "production"));
        int price = b.Place("prices.assistant_hour");
        costs.Add(new("look and viewing copies", "person-hours", "production", price, (s, _) => s.Busy[made] / 3600));
    }

    private void AddMaterial(List<int> editable)
    {
        bool originalsOnline = IsNative || (name == "transcode" && b.Brief.Storage.OriginalsOnline);
        generations.Add(new("originals", originalsOnline ? 0 : 1, s => s.Bytes, Shoot, "production"));
        double mezzanine = b.Study.MezzanineBytesPerFrame;
        switch (name)
        {
            case "native":
                generations.Add(new("caches", 0, Caches, Shoot, "post"));
                break;
            case "native-cached":
                editable.Add(farmStage = AddFarm("render caches", "transcode", CacheShare));
                generations.Add(new("caches", 0, Caches, farmStage, "post"));
                break;
            case "transcode":
                editable.Add(farmStage = AddFarm("convert all", "transcode", (_, _) => 1));
                generations.Add(new("mezzanine", 0, s => s.Frames * mezzanine, farmStage, "post"));
                break;
            case "transcode-selects":
                editable.Add(farmStage = AddFarm("convert selects", "transcode", (s, _) => s.X[selects]));
                generations.Add(new("mezzanine of selects", 0, s => s.Frames * mezzanine * s.X[selects], farmStage, "post"));
                generations.Add(new("viewing proxies", 0, ProxyBytes, Shoot, "post"));
                break;
            case "transcode-off-speed":
                double[] share = [.. b.Study.Strands.Select(s => s.Recording.Mode.IsOffSpeed ? 1.0 : 0.0)];
                editable.Add(farmStage = AddFarm("convert off-speed clips", "transcode", (_, strand) => share[strand]));
                generations.Add(new("mezzanine of off-speed clips", 0, s => OffSpeedFrames(s, share) * mezzanine, farmStage, "post"));
                generations.Add(new("caches", 0, Caches, Shoot, "post"));
                break;
            default:
                AddProxies(editable);
                break;
        }
    }

    private void AddProxies(List<int> editable)
    {
        int source = Shoot;
        bool inPost = PipelineBuilder.ProxySource(b.Brief, name) == "in-post";
        if (inPost)
        {
            editable.Add(source = farmStage = AddFarm("make proxies", "proxy", (_, _) => 1));
        }

        generations.Add(new("proxies", 0, ProxyBytes, source, "post"));
        if (name == "proxy-remote")
        {
            int wan = b.Place("seats.wan");
            stages[source].KeepsDays = inPost;
            editable.Add(Add(new StreamStage(
                "send proxies to the remote editor", "link", StageTags.None, Windows.Always,
                (s, day) => s.DayHours[day] * 3600 * b.ProxyBytesPerSecond, s => s.X[wan] * SharingProtocol, null, -1, source)
            { From = inPost ? source : -1 }));
        }
    }

    private int AddFarm(string stage, string kind, Func<Scope, int, double> share)
    {
        FarmWork work = b.Farm(kind);
        (farmKind, farmShare) = (kind, share);
        string key = $"{name}: {stage}";
        return Add(new StreamStage(
            stage, "farm", StageTags.Farm, b.FarmWindows, b.DayWork, scope => PipelineBuilder.Weigh(scope, work, share), b.Residual(key), b.Place("farm.starts"), Shoot)
        { CalibrationKey = key });
    }

    private double SyncWork(Scope s, int day) => s.DayHours[day] * s.X[finishSync] * 3600;

    private Func<Scope, double> Means(string input)
    {
        int place = b.Place(input);
        return s => s.X[place];
    }

    private double LockAt(Scope s) => b.Clock.Later(b.LockAt, s.X[editLock]);

    private double Caches(Scope s) => s.Bytes * s.X[caches];

    private double CacheShare(Scope s, int strand) => s.X[caches];

    private double ProxyBytes(Scope s) => s.Hours * 3600 * b.ProxyBytesPerSecond;

    private double OffSpeedFrames(Scope s, double[] share)
    {
        double frames = 0;
        for (int i = 0; i < share.Length; i++)
        {
            frames += share[i] * s.Factor[i] * b.Study.Strands[i].TotalFrames;
        }

        return frames;
    }
}
