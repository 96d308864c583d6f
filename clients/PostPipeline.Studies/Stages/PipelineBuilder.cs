using NodaTime;
using PostPipeline.Flows;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;

namespace PostPipeline.Studies.Stages;

/// <summary>What the drafts of all pipelines of a brief share: calendars, the material by day, places of inputs.</summary>
internal sealed class PipelineBuilder
{
    private readonly double[][] framesByDay;

    public PipelineBuilder(PreparedStudy study, InputTable inputs, StudyClock clock)
    {
        (Study, Brief, Inputs, Clock) = (study, study.Brief, inputs, clock);
        LocalDate from = Brief.Shoot.Starts.PlusDays(-7);
        int days = Period.DaysBetween(from, LocalDate.Max(Brief.Deliver.Due, Brief.Edit.Lock)) + 1500;
        People = clock.WorkingHours(Brief.People, from, days);
        FarmWindows = clock.FarmHours(Brief.Farm, from, days);
        LockAt = clock.EndOf(Brief.Edit.Lock);
        FinishedHours = Brief.Edit.FinishedSeconds / 3600;
        framesByDay = [.. Enumerable.Range(0, Brief.Shoot.Days).Select(d => study.Strands.Select(s => (double)s.Frames[d]).ToArray())];
        FinishedFrames = Brief.Edit.FinishedSeconds * Brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble();
    }

    public PreparedStudy Study { get; }

    public Brief Brief { get; }

    public InputTable Inputs { get; }

    public StudyClock Clock { get; }

    /// <summary>Working hours of people.</summary>
    public Windows People { get; }

    /// <summary>When the farm may run.</summary>
    public Windows FarmWindows { get; }

    /// <summary>The lock as planned, s.</summary>
    public double LockAt { get; }

    public double FinishedHours { get; }

    public double FinishedFrames { get; }

    public double ProxyBytesPerSecond => Brief.Proxies.Rate.BytesPerSecond.ToDouble();

    public bool Trimmable => Study.Strands.All(s => s.Recording.Mode.Trimmable == true);

    public PipelinePlan Build(string name) => new PipelineDraft(this, name).Build();

    /// <summary>Where the proxies of a proxy pipeline come from.</summary>
    public static string ProxySource(Brief brief, string pipeline) => pipeline switch
    {
        "proxy-in-camera" => "in-camera",
        "proxy-in-post" => "in-post",
        _ => brief.Shoot.Cameras.All(c => c.ProxyInCamera == true && c.ProxyMatches == true) ? "in-camera" : "in-post",
    };

    public int Place(string input) => Inputs.PlaceOf(input);

    public FarmResidual? Residual(string stage) =>
        Study.Calibrations.TryGetValue(stage, out FarmCalibration? calibration) ? new([.. calibration.Ratios]) : null;

    public FarmWork Farm(string kind) => new(
        Inputs,
        kind,
        kind.StartsWith("render", StringComparison.Ordinal) ? [Study.Job(kind, string.Empty)] : [.. Study.Strands.Select(s => Study.Job(kind, s.Recording.Mode.Name))],
        [.. Brief.Farm.Nodes.Select(n => n.Name)],
        Brief.Farm.OverheadSeconds,
        Brief.Farm.SegmentFrames);

    /// <summary>Work of a planned frame of each strand in this draw, once a stage; days are then a sum of products. Answers the farm's rate.</summary>
    public static double Weigh(Scope scope, FarmWork work, Func<Scope, int, double> share)
    {
        for (int s = 0; s < scope.Weight.Length; s++)
        {
            scope.Weight[s] = work.Work(scope, s, scope.Factor[s] * share(scope, s));
        }

        return work.Rate(scope);
    }

    public double DayWork(Scope scope, int day)
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
