using NodaTime;
using PostPipeline.Flows;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// Turns a pipeline's name into its graph of stages, its generations and its costs. Common to all: shoot and offload,
/// sync, edit to lock, grade, final render, checking, rounds of review. Between them stands what makes the pipeline.
/// </summary>
internal sealed class PipelineBuilder
{
    private const double Month = 30.4375 * Calendar.Day;
    private const double Terabyte = 1e12;
    private readonly PreparedStudy study;
    private readonly Brief brief;
    private readonly InputTable inputs;
    private readonly Windows people;
    private readonly Windows farm;
    private readonly double lockAt;
    private readonly double finishedFrames;
    private readonly double finishedHours;
    private readonly double[][] framesByDay;

    public PipelineBuilder(PreparedStudy study, InputTable inputs, StudyClock clock)
    {
        (this.study, brief, this.inputs) = (study, study.Brief, inputs);
        LocalDate from = brief.Shoot.Starts.PlusDays(-7);
        int days = Period.DaysBetween(from, LocalDate.Max(brief.Deliver.Due, brief.Edit.Lock)) + 1500;
        people = clock.WorkingHours(brief.People, from, days);
        farm = clock.FarmHours(brief.Farm, from, days);
        lockAt = clock.EndOf(brief.Edit.Lock);
        finishedHours = brief.Edit.FinishedSeconds / 3600;
        framesByDay = [.. Enumerable.Range(0, brief.Shoot.Days).Select(d => study.Strands.Select(s => (double)s.Frames[d]).ToArray())];
        finishedFrames = brief.Edit.FinishedSeconds * brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble();
    }

    public Windows FarmWindows => farm;

    public PipelinePlan Build(string name) => new Draft(this, name).Build();

    /// <summary>Where the proxies of a proxy pipeline come from.</summary>
    public static string ProxySource(Brief brief, string pipeline) => pipeline switch
    {
        "proxy-in-camera" => "in-camera",
        "proxy-in-post" => "in-post",
        _ => brief.Shoot.Cameras.All(c => c.ProxyInCamera == true && c.ProxyMatches == true) ? "in-camera" : "in-post",
    };

    private sealed class Draft(PipelineBuilder b, string name)
    {
        private readonly List<Stage> stages = [];
        private readonly List<Generation> generations = [];
        private readonly List<CostItem> costs = [];
        private const int Shoot = 0;
        private readonly int caches = b.Place("caches");
        private readonly int deliverReview = b.Place("deliver.review");
        private readonly int deliverReviewRounds = b.Place("deliver.review_rounds");
        private readonly int editAfterMaterial = b.Place("edit.after_material");
        private readonly int editLock = b.Place("edit.lock");
        private readonly int editLockSlip = b.Place("edit.lock_slip");
        private readonly int finishGrade = b.Place("finish.grade");
        private readonly int finishQualityCheck = b.Place("finish.quality_check");
        private readonly int finishRenders = b.Place("finish.renders");
        private readonly int finishSync = b.Place("finish.sync");
        private readonly int selects = b.Place("selects");
        private int farmStage = -1;
        private string farmKind = string.Empty;
        private Func<Scope, int, double>? farmShare;

        private readonly FarmWork render = b.Farm(name == "transcode" ? "render-mezzanine" : "render-originals");

        private string RenderKind => name == "transcode" ? "render-mezzanine" : "render-originals";

        private bool IsProxy => name.StartsWith("proxy", StringComparison.Ordinal);

        private bool IsNative => name is "native" or "native-cached" or "transcode-off-speed";

        public PipelinePlan Build()
        {
            Add(new ShootStage());
            int sync = Add(new StreamStage("sync and logging", "assistants", StageTags.None, b.people, SyncWork, People("people.assistants"), null, -1, Shoot));
            List<int> editable = [sync];
            AddMaterial(editable);
            int edit = Add(new EditStage(LockAt, s => s.X[editLockSlip], s => s.X[editAfterMaterial], [.. editable]));
            int ready = IsProxy ? AddConform(edit) : Add(new WorkStage("turnover", "assistants", StageTags.Conform, b.people, _ => 8 * 3600.0, People("people.assistants"), null, edit));
            int grade = Add(new WorkStage("grade", "graders", StageTags.Finish, b.people, s => s.X[finishGrade] * 3600, People("people.graders"), null, ready));
            int final = AddRender(grade);
            int check = Add(new WorkStage("quality check", "checkers", StageTags.None, b.people, s => s.X[finishQualityCheck] * b.finishedHours * b.brief.Finish.Versions * 3600, People("people.checkers"), null, final));
            Add(new ElapsedStage("review and re-delivery", "client", StageTags.Review, ReviewSeconds, check));
            generations.Add(new("renders and masters", 0, s => s.X[finishRenders], final, "post"));
            AddCosts(sync, edit, ready, grade, check);
            int keep = b.Place("storage.keep");
            return new(name, stages, generations, costs, farmStage, final, s => s.X[keep] * Calendar.Day, NodesPerSpeed)
            {
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

        private void AddMaterial(List<int> editable)
        {
            bool originalsOnline = IsNative || (name == "transcode" && b.brief.Storage.OriginalsOnline);
            generations.Add(new("originals", originalsOnline ? 0 : 1, s => s.Bytes, Shoot, "production"));
            double mezzanine = b.study.MezzanineBytesPerFrame;
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
                    double[] share = [.. b.study.Strands.Select(s => s.Recording.Mode.IsOffSpeed ? 1.0 : 0.0)];
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
            if (ProxySource(b.brief, name) == "in-post")
            {
                editable.Add(source = farmStage = AddFarm("make proxies", "proxy", (_, _) => 1));
            }

            generations.Add(new("proxies", 0, ProxyBytes, source, "post"));
            if (name == "proxy-remote")
            {
                int wan = b.Place("seats.wan");
                editable.Add(Add(new StreamStage(
                    "send proxies to the remote editor", "link", StageTags.None, Windows.Always,
                    (s, day) => s.DayHours[day] * 3600 * b.ProxyBytesPerSecond, s => s.X[wan] * 0.9, null, -1, source)));
            }
        }

        private int AddFarm(string stage, string kind, Func<Scope, int, double> share)
        {
            FarmWork work = b.Farm(kind);
            (farmKind, farmShare) = (kind, share);
            string key = $"{name}: {stage}";
            return Add(new StreamStage(stage, "farm", StageTags.Farm, b.farm, b.DayWork, scope => Weigh(scope, work, share), b.Residual(key), b.Place("farm.starts"), Shoot) { CalibrationKey = key });
        }

        // The bytes of a pull: each event with handles on both sides, one track on the next, at the frame size of the shoot.
        private int AddConform(int edit)
        {
            double problem = b.study.Rehearsals.TryGetValue(ProxySource(b.brief, name), out RehearsalFacts? rehearsal) ? rehearsal.ProblemShare : 0;
            int events = b.Place("edit.events_per_minute");
            int clean = b.Place("finish.clean_events");
            int minutes = b.Place("finish.problem_event");
            int share = b.Place("finish.problem_share");
            double finishedMinutes = b.brief.Edit.FinishedSeconds / 60 * b.brief.Edit.Tracks;
            double Work(Scope s)
            {
                double count = s.X[events] * finishedMinutes;
                double problems = Math.Min(1, problem + s.X[share]);
                return count * (((1 - problems) * 3600 / s.X[clean]) + (problems * s.X[minutes] * 60));
            }

            int conform = Add(new WorkStage("conform", "assistants", StageTags.Conform, b.people, Work, People("people.assistants"), null, edit));
            double PullBytes(Scope s) => Pull.Bytes(
                b.finishedFrames * b.brief.Edit.Tracks, s.X[events] * finishedMinutes, b.brief.Finish.Handles, s.Frames > 0 ? s.Bytes / s.Frames : 0, b.Trimmable, s.Bytes);
            int nearline = b.Place("storage.nearline.read");
            int pull = Add(new WorkStage("pull originals", "link", StageTags.None, Windows.Always, PullBytes, s => s.X[nearline], null, conform));
            generations.Add(new("pulled originals", 0, PullBytes, pull, "post"));
            return pull;
        }

        private int AddRender(int grade)
        {
            string key = RenderKind == "render-mezzanine" ? "final render from the mezzanine" : "final render from originals";
            return Add(new WorkStage("final render", "farm", StageTags.Farm, b.farm, s => render.Work(s, 0, b.finishedFrames), render.Rate, b.Residual(key), grade) { CalibrationKey = key });
        }

        private void AddCosts(int sync, int edit, int conform, int grade, int check)
        {
            Stage[] all = [.. stages];
            double NodeHours(Scope s)
            {
                double seconds = 0;
                for (int i = 0; i < all.Length; i++)
                {
                    seconds += all[i].IsFarm ? s.Busy[i] : 0;
                }

                return seconds / 3600 * NodesPerSpeed(s);
            }

            double AssistantHours(Scope s)
            {
                double seconds = 0;
                for (int i = 0; i < all.Length; i++)
                {
                    seconds += all[i].IsAssistants ? s.Busy[i] : 0;
                }

                return seconds / 3600;
            }

            costs.Add(new("farm", "node-hours", "post", b.Place("prices.node_hour"), (s, _) => NodeHours(s)));
            costs.Add(new("online storage", "TB-months", "post", b.Place("prices.online"), (_, r) => r.OnlineByteSeconds / Terabyte / Month));
            costs.Add(new("nearline storage", "TB-months", "production", b.Place("prices.nearline"), (_, r) => r.NearlineByteSeconds / Terabyte / Month));
            double tape = b.brief.Storage.TapeSize.Bytes * b.brief.Storage.TapeFill;
            costs.Add(new("tapes", "tapes", "production", b.Place("prices.tape"), (s, _) => b.brief.Storage.TapeCopies * Math.Ceiling(s.Bytes / tape)));
            costs.Add(new("assistants", "person-hours", "production", b.Place("prices.assistant_hour"), (s, _) => AssistantHours(s)));
            costs.Add(new("grading", "person-hours", "production", b.Place("prices.grading_hour"), (s, _) => s.Busy[grade] / 3600));
            costs.Add(new("quality checking", "person-hours", "production", b.Place("prices.checking_hour"), (s, _) => s.Busy[check] / 3600));
            if (IsNative)
            {
                costs.Add(new("workstations for originals", "seat-days", "post", b.Place("prices.workstation_day"),
                    (s, _) => b.brief.Seats.Editors * Math.Max(0, s.Finish[edit] - s.Start[edit]) / Calendar.Day));
            }

            costs.Add(new("named events", "money", "production", -1, (s, _) => s.EventCost));
        }

        private double SyncWork(Scope s, int day) => s.DayHours[day] * s.X[finishSync] * 3600;

        // Work is counted in seconds of the reference node; a node-hour is an hour of any node.
        private double NodesPerSpeed(Scope s) => render.NodesPerSpeed(s);

        private Func<Scope, double> People(string input)
        {
            int place = b.Place(input);
            return s => s.X[place];
        }

        private double LockAt(Scope s) => b.lockAt + (s.X[editLock] * Calendar.Day);

        private double ReviewSeconds(Scope s)
        {
            double rounds = s.X[deliverReviewRounds];
            double whole = Math.Floor(rounds);
            return (whole + (s.ReviewLuck < rounds - whole ? 1 : 0)) * s.X[deliverReview] * Calendar.Day;
        }

        private double Caches(Scope s) => s.Bytes * s.X[caches];

        private double CacheShare(Scope s, int strand) => s.X[caches];

        private double ProxyBytes(Scope s) => s.Hours * 3600 * b.ProxyBytesPerSecond;

        private double OffSpeedFrames(Scope s, double[] share)
        {
            double frames = 0;
            for (int i = 0; i < share.Length; i++)
            {
                frames += share[i] * s.Factor[i] * b.study.Strands[i].TotalFrames;
            }

            return frames;
        }
    }

    private double ProxyBytesPerSecond => brief.Proxies.Rate.BytesPerSecond.ToDouble();

    private bool Trimmable => study.Strands.All(s => s.Recording.Mode.Trimmable == true);

    private int Place(string input) => inputs.PlaceOf(input);

    private FarmResidual? Residual(string stage) =>
        study.Calibrations.TryGetValue(stage, out FarmCalibration? calibration) ? new([.. calibration.Ratios]) : null;

    private FarmWork Farm(string kind) => new(
        inputs,
        kind,
        kind.StartsWith("render", StringComparison.Ordinal) ? [study.Job(kind, string.Empty)] : [.. study.Strands.Select(s => study.Job(kind, s.Recording.Mode.Name))],
        [.. brief.Farm.Nodes.Select(n => n.Name)],
        brief.Farm.OverheadSeconds,
        brief.Farm.SegmentFrames);

    // Work of a planned frame of each strand in this draw, once a stage; days are then a sum of products.
    private static double Weigh(Scope scope, FarmWork work, Func<Scope, int, double> share)
    {
        for (int s = 0; s < scope.Weight.Length; s++)
        {
            scope.Weight[s] = work.Work(scope, s, scope.Factor[s] * share(scope, s));
        }

        return work.Rate(scope);
    }

    private double DayWork(Scope scope, int day)
    {
        double total = 0;
        double[] weight = scope.Weight;
        double[] frames = framesByDay[day];
        for (int s = 0; s < weight.Length; s++)
        {
            total += frames[s] * weight[s];
        }

        return total;
    }
}
