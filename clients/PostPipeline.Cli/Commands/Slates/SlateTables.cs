using PostPipeline.Cli.Frame;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.SlatePlans;
using PostPipeline.Slates.Judging;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Cli.Commands.Slates;

/// <summary>A plan of a slate as three tables, RFC 4180: its stages, its days, its projects.</summary>
internal static class SlateTables
{
    /// <summary>Writes stages.csv, days.csv (what each project takes of farm and storage by day, with the capacity) and lateness.csv.</summary>
    public static void Write(OutputFolder folder, SlateEvaluation evaluation, SlateProblemBuilder builder, SlateProblem problem, SlatePlan plan, IReadOnlyList<JudgedProject> judged)
    {
        DateOnly Day(int slot) => SlateLoads.DateOf(problem.Clock, slot);
        folder.Write("stages.csv", new NumberTable(
            "Stages",
            ["project", "pipeline", "stage", "first day", "last day", "half-days", "nodes of", "nodes"],
            [.. plan.Projects.SelectMany(p => p.Stages.Select(IReadOnlyList<object?> (s) => [p.Project, p.Pipeline, s.Stage, Day(s.Start), Day(Math.Max(s.Start, s.End - 1)), s.End - s.Start, s.FarmClass, s.Nodes]))]).ToCsv());
        SlateLoads loads = new(problem, plan, builder.Capacities);
        folder.Write("days.csv", new NumberTable(
            "Days",
            ["day", "resource", "unit", "project", "taken", "capacity"],
            [.. loads.Farm.Concat(loads.Storage).SelectMany(panel => panel.Series.SelectMany(series => series.Values.Select(IReadOnlyList<object?> (value, day) =>
                [panel.FirstDay.AddDays(day), panel.Name, panel.Unit, series.Name, value, panel.Capacity?[day]])))]).ToCsv());
        folder.Write("lateness.csv", new NumberTable(
            "Lateness",
            ["project", "due", "planned end", "end P10", "end P50", "end P90", "days late as planned", "on time"],
            [.. plan.Projects.Select(IReadOnlyList<object?> (p, i) => [
                p.Project, evaluation.Slate.Projects[i].Due.ToDateOnly(), Day(p.End - 1), Day((int)Math.Ceiling(judged[i].End.P10) - 1), Day((int)Math.Ceiling(judged[i].End.P50) - 1),
                Day((int)Math.Ceiling(judged[i].End.P90) - 1), p.LateSlots / 2.0, judged[i].OnTime.Share])]).ToCsv());
    }
}
