namespace PostPipeline.Studies.Stages;

/// <summary>What a pipeline costs, and who pays.</summary>
internal sealed partial class PipelineDraft
{
    private const double Month = 30.4375 * Calendar.Day;
    private const double Terabyte = 1e12;

    private void AddCosts(int edit)
    {
        costs.Add(new("farm", "node-hours", "post", b.Place("prices.node_hour"), Hours(s => s.IsFarm, NodesPerSpeed)));
        costs.Add(new("online storage", "TB-months", "post", b.Place("prices.online"), (_, r) => r.OnlineByteSeconds / Terabyte / Month));
        costs.Add(new("nearline storage", "TB-months", "production", b.Place("prices.nearline"), (_, r) => r.NearlineByteSeconds / Terabyte / Month));
        double tape = b.Brief.Storage.TapeSize.Bytes * b.Brief.Storage.TapeFill;
        costs.Add(new("tapes", "tapes", "production", b.Place("prices.tape"), (s, _) => b.Brief.Storage.TapeCopies * Math.Ceiling(s.Bytes / tape)));
        costs.Add(new("assistants", "person-hours", "production", b.Place("prices.assistant_hour"), Hours(s => s.IsAssistants)));
        costs.Add(new("grading", "person-hours", "production", b.Place("prices.grading_hour"), Hours(s => s.Resource == "graders")));
        costs.Add(new("quality checking", "person-hours", "production", b.Place("prices.checking_hour"), Hours(s => s.Resource == "checkers")));
        if (IsNative)
        {
            costs.Add(new("workstations for originals", "seat-days", "post", b.Place("prices.workstation_day"),
                (s, _) => b.Brief.Seats.Editors * Math.Max(0, s.Finish[edit] - s.Start[edit]) / Calendar.Day));
        }

        costs.Add(new("named events", "money", "production", -1, (s, _) => s.EventCost));
    }

    private Func<Scope, PipelineResult, double> Hours(Func<Stage, bool> counts, Func<Scope, double>? times = null)
    {
        int[] counted = [.. Enumerable.Range(0, stages.Count).Where(i => counts(stages[i]))];
        return (s, _) =>
        {
            double seconds = 0;
            foreach (int i in counted)
            {
                seconds += s.Busy[i];
            }

            return seconds / 3600 * (times is null ? 1 : times(s));
        };
    }

    // Work is counted in seconds of the reference node; a node-hour is an hour of any node.
    private double NodesPerSpeed(Scope s) => render.NodesPerSpeed(s);
}
