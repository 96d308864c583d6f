using NodaTime;
using PostPipeline.Flows;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Stages;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies;

/// <summary>
/// A prepared study turned into something that can be evaluated: pipelines as stage graphs over a table of inputs.
/// Evaluation is pure, makes no calls, and is what every study (sweep, tipping, sensitivity, binding limits) repeats.
/// </summary>
public sealed class StudyModel
{
    // Chances before the named events: the farm's noise, the rounds of review.
    private const int FirstEvent = 2;

    private readonly PipelinePlan[] plans;
    private readonly int[] hoursInput;
    private readonly long[][] dayStart;
    private readonly long[][] nextCall;
    private readonly (int Unit, int FirstStrand)[] units;
    private readonly int slip;
    private readonly int bytesPerHour;
    private readonly int afterWrap;
    private readonly int stations;
    private readonly (int Chance, double Probability, int Delay, int Cost, int Tag, bool[] Concerns)[] events;

    /// <summary>Builds the model.</summary>
    /// <param name="study">What the services answered.</param>
    public StudyModel(PreparedStudy study)
    {
        Study = study;
        Brief brief = study.Brief;
        Clock = new(brief.Zone, brief.Shoot.Starts);
        Inputs = StudyInputs.Of(study);
        PipelineBuilder builder = new(study, Inputs, Clock);
        plans = [.. brief.Pipelines.Select(builder.Build)];
        FarmWindows = builder.FarmWindows;
        hoursInput = [.. study.Strands.Select(s => Inputs.PlaceOf(s.Recording.HoursPerDay.Key))];
        IReadOnlyList<LocalDate> dates = brief.Shoot.Dates();
        dayStart = [.. brief.Shoot.Units.Select(u => dates.Select(d => Clock.MidnightOf(d, u)).ToArray())];
        nextCall = [.. brief.Shoot.Units.Select(u => NextCalls(u, dates))];
        units = [.. brief.Shoot.Units.Select((_, u) => (u, study.Strands.Select((s, i) => (s, i)).Where(p => p.s.Unit == u).Select(p => p.i).DefaultIfEmpty(-1).First()))];
        slip = Inputs.PlaceOf("shoot.slip");
        bytesPerHour = Inputs.PlaceOf("shoot.bytes_per_hour");
        afterWrap = Inputs.PlaceOf("offload.after_wrap");
        stations = Inputs.PlaceOf("offload.stations");
        Due = Clock.EndOf(brief.Deliver.Due);
        events = [.. brief.Events.Select((e, i) => (
            FirstEvent + i, e.Probability, Inputs.PlaceOf(e.Delay.Key), Inputs.PlaceOf(e.Cost.Key), StageTags.Of(e.Hits),
            brief.Pipelines.Select(p => e.Pipelines.Count == 0 || e.Pipelines.Contains(p)).ToArray()))];
    }

    /// <summary>What the services answered.</summary>
    public PreparedStudy Study { get; }

    /// <summary>The study's clock.</summary>
    public StudyClock Clock { get; }

    /// <summary>Every input, by name.</summary>
    public InputTable Inputs { get; }

    /// <summary>The moment that counts as on time, s.</summary>
    public long Due { get; }

    /// <summary>When the farm may run.</summary>
    public Windows FarmWindows { get; }

    /// <summary>The pipelines in the brief's order.</summary>
    public IReadOnlyList<string> Pipelines => Study.Brief.Pipelines;

    internal IReadOnlyList<PipelinePlan> Plans => plans;

    /// <summary>The moment that counts as on time under some changes, s.</summary>
    /// <param name="changes">What-if changes to inputs, in order.</param>
    internal double DueUnder(IReadOnlyList<Change> changes) => Clock.Later(Due, Likely("deliver.due", changes));

    /// <summary>The likely value of an input under some changes.</summary>
    /// <param name="input">Its name.</param>
    /// <param name="changes">What-if changes to inputs, in order.</param>
    internal double Likely(string input, IReadOnlyList<Change> changes)
    {
        double value = Inputs.Inputs[Inputs.PlaceOf(input)].Likely;
        foreach (Change change in changes)
        {
            value = change.Input == input ? change.Apply(value) : value;
        }

        return value;
    }

    /// <summary>
    /// Evaluates every pipeline on the same draws: the one function under all studies.
    /// </summary>
    /// <param name="draws">Draws of <see cref="Inputs"/>.</param>
    /// <param name="changes">What-if changes to inputs, in order.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="detail">Whether to keep stages and costs of each draw too.</param>
    /// <param name="cancellation">Ends the evaluation.</param>
    public Evaluation Evaluate(
        DrawSet draws, IReadOnlyList<Change>? changes = null, int threads = 1, bool detail = false, CancellationToken cancellation = default)
    {
        changes ??= [];
        (int Place, Change Change)[] placed = [.. changes.Select(c => (Inputs.PlaceOf(c.Input), c))];
        Evaluation evaluation = new(this, draws.Count, detail, changes);
        const int Block = 128;
        ParallelOptions options = new() { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancellation };
        Parallel.For(0, (draws.Count + Block - 1) / Block, options, () => new Walker(this), (block, _, walker) =>
        {
            for (int draw = block * Block; draw < Math.Min(draws.Count, (block + 1) * Block); draw++)
            {
                walker.Walk(draws, draw, placed, evaluation);
            }

            return walker;
        }, walker => evaluation.KeepCritical(walker.Critical));
        return evaluation;
    }

    /// <summary>
    /// When some pipelines deliver, by pipeline and draw, and nothing else: what a search over one input asks for again and again.
    /// </summary>
    /// <param name="draws">Draws of <see cref="Inputs"/>.</param>
    /// <param name="changes">What-if changes to inputs, in order.</param>
    /// <param name="wanted">Places of the pipelines; the others are left empty.</param>
    /// <param name="cancellation">Ends the evaluation.</param>
    internal double[][] Deliveries(DrawSet draws, IReadOnlyList<Change> changes, IReadOnlyCollection<int> wanted, CancellationToken cancellation)
    {
        (int Place, Change Change)[] placed = [.. changes.Select(c => (Inputs.PlaceOf(c.Input), c))];
        double[][] delivered = [.. plans.Select((_, p) => wanted.Contains(p) ? new double[draws.Count] : [])];
        Scope scope = NewScope();
        for (int draw = 0; draw < draws.Count; draw++)
        {
            if (draw % 64 == 0)
            {
                cancellation.ThrowIfCancellationRequested();
            }

            Prepare(scope, draws, draw, placed);
            foreach (int p in wanted)
            {
                Happen(scope, draws.Luck(draw), p);
                delivered[p][draw] = plans[p].Delivered(scope);
            }
        }

        return delivered;
    }

    internal Scope NewScope() => new(Inputs.Count, Study.Strands.Count, Study.Brief.Shoot.Days, plans.Max(p => p.Stages.Length));

    internal void Prepare(Scope scope, DrawSet draws, int draw, ReadOnlySpan<(int Place, Change Change)> changes)
    {
        draws.Row(draw).CopyTo(scope.X);
        foreach ((int place, Change change) in changes)
        {
            scope.X[place] = change.Apply(scope.X[place]);
        }

        scope.LeadingFor = null;
        scope.FarmLuck = draws.Luck(draw)[0];
        scope.ReviewLuck = draws.Luck(draw)[1];
        Material(scope);
    }

    // What a thread uses over and over, and the counts that it makes alone.
    private sealed class Walker(StudyModel model)
    {
        private readonly Scope scope = model.NewScope();
        private readonly PipelineResult result = new();

        public int[][] Critical { get; } = [.. model.plans.Select(p => new int[p.Stages.Length])];

        public void Walk(DrawSet draws, int draw, ReadOnlySpan<(int Place, Change Change)> changes, Evaluation evaluation)
        {
            model.Prepare(scope, draws, draw, changes);
            evaluation.KeepShared(draw, scope);
            for (int p = 0; p < model.plans.Length; p++)
            {
                model.Happen(scope, draws.Luck(draw), p);
                model.plans[p].Compute(scope, result);
                model.plans[p].CriticalChain(scope, Critical[p]);
                evaluation.Keep(draw, p, model.plans[p], scope, result);
            }
        }
    }

    private void Material(Scope scope)
    {
        IReadOnlyList<Strand> strands = Study.Strands;
        double heavier = scope.X[bytesPerHour];
        (scope.Bytes, scope.Frames, scope.Hours) = (0, 0, 0);
        scope.DayHours.AsSpan().Clear();
        for (int s = 0; s < strands.Count; s++)
        {
            Strand strand = strands[s];
            double planned = strand.Recording.HoursPerDay.Likely;
            double factor = planned > 0 ? scope.X[hoursInput[s]] / planned : 0;
            scope.Factor[s] = factor;
            scope.Bytes += factor * heavier * strand.TotalBytes;
            scope.Frames += factor * strand.TotalFrames;
            double hours = factor / 3600;
            double[] seconds = strand.Seconds;
            for (int day = 0; day < seconds.Length; day++)
            {
                scope.DayHours[day] += hours * seconds[day];
            }

            scope.Hours += hours * strand.TotalSeconds;
        }

        Offload(scope);
    }

    private void Offload(Scope scope)
    {
        OffloadFacts offload = Study.OffloadWithOneMoreStation is { } more && scope.X[stations] >= Study.Brief.Offload.Stations + 0.5 ? more : Study.Offload;
        double collect = Study.Brief.Offload.CollectSeconds;
        double leastRest = double.PositiveInfinity;
        scope.Ready.AsSpan().Fill(long.MinValue);
        foreach ((int unit, int firstStrand) in units)
        {
            if (firstStrand < 0)
            {
                continue;
            }

            double planned = 0;
            double drawn = 0;
            for (int s = 0; s < Study.Strands.Count; s++)
            {
                if (Study.Strands[s].Unit == unit)
                {
                    planned += Study.Strands[s].TotalBytes;
                    drawn += scope.Factor[s] * Study.Strands[s].TotalBytes;
                }
            }

            double multiple = planned > 0 ? scope.X[bytesPerHour] * drawn / planned : 1;
            int level = offload.LevelOf(multiple);
            ShootUnit plan = Study.Brief.Shoot.Units[unit];
            double wrap = plan.Wrap.TickOfDay / 1e7;
            for (int day = plan.FirstDay - 1; day < plan.FirstDay - 1 + plan.Days; day++)
            {
                double end = offload.EndAt(unit, day, multiple, level);
                end = wrap + ((end - wrap) * (end > wrap ? scope.X[afterWrap] : 1));
                leastRest = Math.Min(leastRest, nextCall[unit][day] - (dayStart[unit][day] + end));
                scope.Ready[day] = Math.Max(scope.Ready[day], (long)Clock.Later(dayStart[unit][day] + end + collect, scope.X[slip]));
            }
        }

        // A day without a unit has no material of its own; it is as ready as the day before.
        for (int day = 0; day < scope.Ready.Length; day++)
        {
            long before = day > 0 ? scope.Ready[day - 1] : dayStart[0][0];
            scope.Ready[day] = Math.Max(scope.Ready[day], before);
        }

        scope.OffloadEnd = scope.Ready[^1] - (long)collect;
        scope.LeastRest = leastRest;
    }

    // Named events fall the same way for every pipeline that they concern.
    private void Happen(Scope scope, ReadOnlySpan<double> luck, int pipeline)
    {
        scope.Delay.AsSpan().Clear();
        scope.EventCost = 0;
        foreach ((int chance, double probability, int delay, int cost, int tag, bool[] concerns) in events)
        {
            if (concerns[pipeline] && luck[chance] < probability)
            {
                scope.Delay[tag] += scope.X[delay];
                scope.EventCost += scope.X[cost];
            }
        }

        scope.ShootDelay = (long)((scope.Delay[StageTags.Shoot] + scope.Delay[StageTags.Offload]) * Calendar.Day);
    }

    private long[] NextCalls(ShootUnit unit, IReadOnlyList<LocalDate> dates)
    {
        long[] calls = new long[dates.Count];
        int last = unit.FirstDay - 1 + unit.Days - 1;
        for (int day = 0; day < dates.Count; day++)
        {
            calls[day] = day < last ? Clock.At(dates[day + 1], unit.Call) : Calendar.Never;
        }

        return calls;
    }
}
