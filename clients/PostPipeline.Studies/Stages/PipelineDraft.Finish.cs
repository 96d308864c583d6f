using PostPipeline.Flows;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Stages;

/// <summary>From the locked cut to acceptance.</summary>
internal sealed partial class PipelineDraft
{
    // A sharing protocol takes a tenth of a link (common practice, no source).
    private const double SharingProtocol = 0.9;

    // Half-float RGB: three values of two bytes a pixel (OpenEXR), the usual coding of plates.
    private const double PlateBytesPerPixel = 6;

    // One after the other by the same assistants: turnovers, then conform or hand-over.
    private int AddTurnoversAndConform(int edit)
    {
        int before = edit;
        if (b.Brief.HasTurnovers)
        {
            int count = b.Place("turnovers.count");
            int hours = b.Place("turnovers.hours");
            before = Add(new WorkStage(
                "turnovers to effects and sound", "assistants", StageTags.Conform, b.People, s => Math.Round(s.X[count]) * s.X[hours] * 3600, Means("people.assistants"), null, edit));
        }

        if (IsProxy)
        {
            return AddConform(before);
        }

        int handOver = b.Place("finish.hand_over");
        return Add(new WorkStage(
            "hand-over to finishing", "assistants", b.Brief.HasTurnovers ? StageTags.None : StageTags.Conform, b.People, s => s.X[handOver] * 3600, Means("people.assistants"), null, before));
    }

    // The bytes of a pull: each event with handles on both sides, one track on the next, at the frame size of the shoot.
    private int AddConform(int before)
    {
        double problem = b.Study.Rehearsals.TryGetValue(PipelineBuilder.ProxySource(b.Brief, name), out RehearsalFacts? rehearsal) ? rehearsal.ProblemShare : 0;
        int events = b.Place("edit.events_per_minute");
        int clean = b.Place("finish.clean_events");
        int minutes = b.Place("finish.problem_event");
        int share = b.Place("finish.problem_share");
        int factor = b.Place("finish.problem_factor");
        double finishedMinutes = b.Brief.Edit.FinishedSeconds / 60 * b.Brief.Edit.Tracks;
        double Work(Scope s)
        {
            double count = s.X[events] * finishedMinutes;
            double problems = Math.Min(1, s.X[factor] * (problem + s.X[share]));
            return count * (((1 - problems) * 3600 / s.X[clean]) + (problems * s.X[minutes] * 60));
        }

        int conform = Add(new WorkStage(
            "conform", "assistants", b.Brief.HasTurnovers ? StageTags.None : StageTags.Conform, b.People, Work, Means("people.assistants"), null, before));
        double PullBytes(Scope s) => Pull.Bytes(
            b.FinishedFrames * b.Brief.Edit.Tracks, s.X[events] * finishedMinutes, b.Brief.Finish.Handles, s.Frames > 0 ? s.Bytes / s.Frames : 0, b.Trimmable, s.Bytes);
        int nearline = b.Place("storage.nearline.read");
        int pull = Add(new WorkStage("pull originals", "link", StageTags.None, Windows.Always, PullBytes, s => s.X[nearline], null, conform));
        generations.Add(new("pulled originals", 0, PullBytes, pull, "post"));
        return pull;
    }

    // Plates are pulled some days before the lock, or at it; the grade waits for the last accepted version.
    private void AddEffects(int edit, List<int> editable, List<int> gradable)
    {
        if (b.Brief.Effects is not { } effects)
        {
            return;
        }

        int shots = b.Place("effects.shots");
        int length = b.Place("effects.length");
        int versions = b.Place("effects.versions");
        int version = b.Place("effects.version");
        int lead = b.Place("effects.before_lock");
        int nearline = b.Place("storage.nearline.read");
        double rate = b.Brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble();
        double plate = b.Brief.Modes[0].Raster.Pixels * PlateBytesPerPixel;
        double master = b.Brief.Deliver.Raster.Pixels * PlateBytesPerPixel;
        double PlateBytes(Scope s) => s.X[shots] * ((s.X[length] * rate) + (2 * effects.Handles)) * plate;
        int pull = Add(new LeadStage(
            "pull effects plates", "link", s => s.X[lead] * Calendar.Day, [.. editable], s => s.X[nearline] > 0 ? PlateBytes(s) / s.X[nearline] : double.PositiveInfinity, edit));
        int made = Add(new ElapsedStage("effects versions", "effects", StageTags.None, s => s.X[shots] > 0 ? Math.Round(s.X[versions]) * s.X[version] * Calendar.Day : 0, pull));
        generations.Add(new("effects plates", 0, PlateBytes, pull, "post"));
        generations.Add(new("effects versions", 0, s => s.X[shots] * s.X[length] * rate * Math.Round(s.X[versions]) * master, made, "production"));
        costs.Add(new("effects", "shots", "production", b.Place("prices.effects_shot"), (s, _) => s.X[shots]));
        gradable.Add(made);
    }

    private int AddFinish(List<int> gradable)
    {
        int gradeHours = b.Place("finish.grade");
        int grade = Add(new WorkStage("grade", "graders", StageTags.Finish, b.People, s => s.X[gradeHours] * 3600, Means("people.graders"), null, [.. gradable]));
        string key = RenderKind == "render-mezzanine" ? "final render from the mezzanine" : "final render from originals";
        int final = Add(new WorkStage("final render", "farm", StageTags.Farm, b.FarmWindows, s => RenderWork(s, 1), render.Rate, b.Residual(key), grade) { CalibrationKey = key });
        int hours = b.Place("finish.quality_check");
        double versions = b.Brief.Deliver.Items.Count > 0 ? 1 : b.Brief.Finish.Versions;
        int check = Add(Checking("quality check", s => s.X[hours] * versions, final));
        int finishRenders = b.Place("finish.renders");
        generations.Add(new("renders and masters", 0, s => s.X[finishRenders], final, "post"));
        int last = AddItems(final, check);
        AddReview(last);
        return final;
    }

    // Each item waits for the farm, the checkers and the link to be done with the one before it.
    private int AddItems(int final, int check)
    {
        (int rendered, int checkedLast, int sent) = (final, check, -1);
        int link = b.Place("deliver.link");
        foreach (Deliverable item in b.Brief.Deliver.Items)
        {
            int share = b.Place(item.Render.Key);
            int hours = b.Place(item.Check.Key);
            double bytes = item.Size.Bytes;
            rendered = Add(new WorkStage($"render: {item.Name}", "farm", StageTags.None, b.FarmWindows, s => RenderWork(s, s.X[share]), render.Rate, null, rendered));
            checkedLast = Add(Checking($"check: {item.Name}", s => s.X[hours], rendered, checkedLast));
            sent = Add(new WorkStage($"upload: {item.Name}", "link", StageTags.None, Windows.Always, _ => bytes, s => s.X[link] * SharingProtocol, null, sent < 0 ? [checkedLast] : [checkedLast, sent]));
            generations.Add(new($"deliverable: {item.Name}", 0, _ => bytes, rendered, "post"));
        }

        return sent < 0 ? check : sent;
    }

    private void AddReview(int last)
    {
        if (b.Brief.Deliver.Rounds.Count == 0)
        {
            int rounds = b.Place("deliver.review_rounds");
            int days = b.Place("deliver.review");
            Add(new ElapsedStage("review and re-delivery", "client", StageTags.Review, s => WholeRounds(s.X[rounds], s.ReviewLuck) * s.X[days] * Calendar.Day, last));
            return;
        }

        // One number decides how far the rounds go: each needs the one before it.
        double chance = 1;
        for (int i = 0; i < b.Brief.Deliver.Rounds.Count; i++)
        {
            ReviewRound round = b.Brief.Deliver.Rounds[i];
            double below = chance *= round.Chance;
            int days = b.Place(round.Days.Key);
            int share = b.Place(round.Render.Key);
            int hours = b.Place(round.Check.Key);
            double Happens(Scope s) => s.ReviewLuck < below ? 1 : 0;
            int noted = Add(new ElapsedStage($"review, round {i + 1}", "client", i == 0 ? StageTags.Review : StageTags.None, s => Happens(s) * s.X[days] * Calendar.Day, last));
            int mended = Add(new WorkStage($"mend and render, round {i + 1}", "farm", StageTags.None, b.FarmWindows, s => Happens(s) * RenderWork(s, s.X[share]), render.Rate, null, noted));
            last = Add(Checking($"check again, round {i + 1}", s => Happens(s) * s.X[hours], mended));
        }
    }

    private static double WholeRounds(double rounds, double luck)
    {
        double whole = Math.Floor(rounds);
        return whole + (luck < rounds - whole ? 1 : 0);
    }

    private double RenderWork(Scope s, double share) => render.Work(s, 0, b.FinishedFrames * share);

    private WorkStage Checking(string stage, Func<Scope, double> hoursPerFinishedHour, params int[] after) =>
        new(stage, "checkers", StageTags.None, b.People, s => hoursPerFinishedHour(s) * b.FinishedHours * 3600, Means("people.checkers"), null, after);
}
