using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies.Outcomes;

/// <summary>Holds a pipeline against its gates. Unknown is not a pass.</summary>
internal sealed class GateBuilder(StudyModel model)
{
    private readonly Brief brief = model.Study.Brief;

    public IReadOnlyList<Gate> Gates(Evaluation evaluation, PipelineDraws draws, Probability onTime)
    {
        string name = draws.Name;
        bool native = name is "native" or "native-cached" or "transcode-off-speed";
        bool proxy = name.StartsWith("proxy", StringComparison.Ordinal);
        return
        [
            Date(onTime),
            RasterAndDepth(name),
            WriteCeiling(),
            MatchKey(name, proxy),
            Decode(evaluation, name),
            Capacity("online capacity", "storage.online.usable", evaluation.Mean("storage.online.usable"), draws.OnlinePeak),
            Capacity("nearline capacity", "storage.nearline.usable", evaluation.Mean("storage.nearline.usable"), draws.NearlinePeak),
            Link(evaluation, name, native, proxy),
            Rest(evaluation),
            .. Cards(evaluation),
        ];
    }

    private static Gate Of(string name, bool passes, double margin, string says, string limit = "") =>
        new(name, passes ? GateState.Passes : GateState.Fails, margin, says, limit);

    private Gate Date(Probability onTime) => Of(
        "date",
        onTime.Share >= brief.Confidence,
        onTime.Share - brief.Confidence,
        $"P(on time) with lock slip {Numbers.Percent(onTime.Share, onTime.StandardError)}, asked for {Numbers.Percent(brief.Confidence)}");

    private Gate RasterAndDepth(string name)
    {
        bool mezzanine = name is "transcode" or "transcode-selects";
        CaptureMode main = brief.Modes[0];
        (int width, int height, int depth) = mezzanine
            ? (brief.Mezzanine.Raster.Width, brief.Mezzanine.Raster.Height, brief.Mezzanine.Depth)
            : (main.Raster.Width, main.Raster.Height, main.Depth);
        DeliverPlan master = brief.Deliver;
        double margin = Math.Min((double)width / master.Raster.Width, (double)height / master.Raster.Height) - 1;
        return Of(
            "raster and depth",
            margin >= 0 && depth >= master.Depth,
            margin,
            $"{(mezzanine ? "the mezzanine has" : "the originals have")} {width}×{height} at {depth} bit, the master needs {master.Raster} at {master.Depth} bit");
    }

    private Gate WriteCeiling()
    {
        GateState worst = GateState.Passes;
        double margin = double.PositiveInfinity;
        List<string> says = [];
        foreach (RecordingFacts facts in model.Study.Recordings)
        {
            Camera camera = brief.Shoot.Cameras[facts.Camera];
            CaptureMode mode = camera.Recordings[facts.Recording].Mode;
            bool burst = facts.Kind == "burst";
            GateState state = facts.Kind == "over-ceiling" ? GateState.Fails : burst || facts.Sustained == true ? GateState.Passes : GateState.Unknown;
            worst = (GateState)Math.Max((int)worst, (int)state);
            if (!burst)
            {
                margin = Math.Min(margin, (facts.CeilingBytesPerSecond / facts.NeededBytesPerSecond) - 1);
            }

            if (state != GateState.Passes || burst)
            {
                string why = burst
                    ? $"is a burst of {Numbers.Three(facts.BurstSeconds)} s, ready again after {Numbers.Three(facts.ReadyAgainSeconds)} s"
                    : state == GateState.Fails
                        ? $"needs {Numbers.Rate(facts.NeededBytesPerSecond)} written, the card can be trusted with {Numbers.Rate(facts.CeilingBytesPerSecond)}, and no buffer is known"
                        : "fits the card by its numbers, but no test and no mode table shows it";
                says.Add($"camera {camera.Letter}, mode {mode.Name}: {why}");
            }
        }

        string text = says.Count == 0 ? "every mode is shown to record without end" : string.Join("; ", says.Distinct());
        return new("write ceiling", worst, double.IsFinite(margin) ? margin : double.NaN, text);
    }

    private Gate MatchKey(string name, bool proxy)
    {
        if (!proxy)
        {
            return new("match key", GateState.Passes, double.NaN, "the cut is finished in the material that it was cut in");
        }

        string source = PipelineBuilder.ProxySource(brief, name);
        if (!model.Study.Rehearsals.TryGetValue(source, out RehearsalFacts? rehearsal))
        {
            return new("match key", GateState.Unknown, double.NaN, "nothing was rehearsed");
        }

        bool? passes = brief.Proxies.NamesKept == false ? false : brief.Proxies.NamesKept is null && rehearsal.Passes == true ? null : rehearsal.Passes;
        string names = brief.Proxies.NamesKept switch { true => "names are kept", false => "names are not kept", null => "whether names are kept is not known" };
        return new(
            "match key",
            passes switch { true => GateState.Passes, false => GateState.Fails, null => GateState.Unknown },
            double.NaN,
            $"rehearsal with proxies {source}: {rehearsal.ProblemEvents} of {rehearsal.Events} events would need a person; {names}");
    }

    private Gate Decode(Evaluation evaluation, string name)
    {
        if (name is not ("native" or "transcode-off-speed"))
        {
            return new("decode", GateState.Passes, double.NaN, "seats play a light coding");
        }

        double needed = brief.Seats.Streams * brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble();
        Estimate decode = brief.Input("seats.decode");
        double measured = evaluation.Mean("seats.decode");
        double margin = (measured / needed) - 1;
        if (!brief.Seats.DecodeIsKnown || decode.IsUnknown)
        {
            return new("decode", GateState.Unknown, double.NaN, $"a seat needs {Numbers.Three(needed)} frames/s of originals; nobody has measured what it decodes", "seats.decode");
        }

        return Of("decode", margin >= 0, margin, $"a seat needs {Numbers.Three(needed)} frames/s of originals and was measured at {Numbers.Three(measured)}{(margin is >= 0 and < 0.5 ? " (tight)" : string.Empty)}", "seats.decode");
    }

    private static Gate Capacity(string name, string limit, double usable, double[] peaks)
    {
        double needed = Range.Of(peaks).P90;
        if (double.IsInfinity(usable))
        {
            return new(name, needed > 0 ? GateState.Unknown : GateState.Passes, double.NaN, needed > 0 ? $"needs {Numbers.Size(needed)} (P90); the brief names no capacity" : "holds nothing", limit);
        }

        double margin = (usable / Math.Max(needed, 1)) - 1;
        return Of(name, needed <= usable, Math.Min(margin, 99), $"needs {Numbers.Size(needed)} (P90) of {Numbers.Size(usable)} usable", limit);
    }

    private Gate Link(Evaluation evaluation, string name, bool native, bool proxy)
    {
        double streams = brief.Seats.Streams;
        double rate = Streams.BytesPerSecond(model.Study, native, proxy);
        double link = evaluation.Mean(name == "proxy-remote" ? "seats.wan" : "seats.link");

        // 0.9 for a sharing protocol and 0.7 of headroom (common practice, no source), each once.
        double plannable = link * 0.9 * 0.7;
        double array = brief.Storage.Online.Read.BytesPerSecond.ToDouble() * 0.7;
        double demand = brief.Seats.Editors * streams * rate * brief.Seats.Together;
        double margin = Math.Min(plannable / (streams * rate), demand > 0 ? array / demand : 99) - 1;
        return Of(
            "link",
            margin >= 0,
            margin,
            $"a seat reads {Numbers.Rate(streams * rate)} of {Numbers.Rate(plannable)} plannable, all seats {Numbers.Rate(demand)} of {Numbers.Rate(array)} plannable",
            name == "proxy-remote" ? "seats.wan" : "seats.link");
    }

    // Only where the brief says how many cards there are. A heavier shoot needs them in the same proportion on its heaviest day.
    private IEnumerable<Gate> Cards(Evaluation evaluation)
    {
        double planned = model.Study.Strands.Sum(s => (double)s.TotalBytes);
        double multiple = planned > 0 ? Range.Of(evaluation.Bytes).P90 / planned : 1;
        (string Name, double Needed, double Owned)[] kinds = [.. brief.Shoot.Cameras.Select((c, i) => (c.Card, Needed: model.Study.Offload.CardsAt(i, multiple)))
            .Where(c => c.Card.Count is not null).GroupBy(c => c.Card.Name)
            .Select(g => (g.Key, g.Sum(c => c.Needed), g.First().Card.Count!.Value + (evaluation.Mean("cards.more") * g.Count())))];
        if (kinds.Length > 0)
        {
            (string name, double needed, double owned) = kinds.MinBy(k => k.Owned - k.Needed);
            yield return Of(
                "cards", owned >= needed, (owned / Math.Max(1, needed)) - 1,
                $"the heaviest day has at most {Numbers.Three(needed)} cards '{name}' in use at once, spares included (P90 of the material), of {Numbers.Three(owned)}", "cards.more");
        }
    }

    private Gate Rest(Evaluation evaluation)
    {
        double asked = brief.Offload.RestSeconds;
        double least = Range.Of(evaluation.LeastRest).P10;
        if (least >= Calendar.Never / 2.0)
        {
            return new("rest", GateState.Passes, double.NaN, "no shoot day follows another");
        }

        return Of("rest", least >= asked, (least / Math.Max(1, asked)) - 1, $"between the last card and the next call stand at least {Numbers.Duration(least)} (P10), asked for {Numbers.Duration(asked)}; local rules differ and win", "offload.after_wrap");
    }
}
