using PostPipeline.Quantities;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies.Inputs;

/// <summary>Lists everything that a study of a brief may draw, fix or change.</summary>
internal static class StudyInputs
{
    // What a what-if may fix a mean at; the same bounds as the brief's keys have.
    private const double MostFactor = 1e6;
    private const double MostBytes = 9.2e18;
    private const double MostPeople = 200;
    private const double MostDays = 3660;

    /// <summary>The table of a prepared study: the brief's inputs, errors of predictions, means, chances.</summary>
    public static InputTable Of(PreparedStudy study)
    {
        InputTable table = new();
        foreach (Estimate input in study.Brief.Inputs)
        {
            table.Add(input);
        }

        foreach (IGrouping<string, JobFacts> kind in study.Jobs.GroupBy(j => j.Kind))
        {
            table.AddLogNormal(FarmWork.ErrorInput(kind.Key), kind.Max(j => j.LogDeviation), kind.Any(j => j.Invented) ? Known.Invented : Known.Measured);
        }

        Brief brief = study.Brief;
        foreach (NodeClass node in brief.Farm.Nodes)
        {
            table.AddMean(FarmWork.CountInput(node.Name), node.Count, "nodes", 0, 10_000);
        }

        table.AddMean("farm.speed", 1, "factor", 0, MostFactor);
        table.AddMean("farm.licences", brief.Farm.Licences, "licences", 0, 100_000);
        table.AddMean("farm.storage", brief.Farm.Storage.BytesPerSecond.ToDouble(), "B/s", 0, MostBytes);
        table.AddMean("storage.online.usable", brief.Storage.Online.UsableBytes, "B", 0, double.PositiveInfinity);
        table.AddMean("storage.nearline.usable", brief.Storage.Nearline.UsableBytes, "B", 0, double.PositiveInfinity);
        table.AddMean("storage.nearline.read", brief.Storage.Nearline.Read.BytesPerSecond.ToDouble(), "B/s", 0, MostBytes);
        table.AddMean("people.assistants", brief.People.Assistants, "people", 0, MostPeople);
        table.AddMean("people.graders", brief.People.Graders, "people", 0, MostPeople);
        table.AddMean("people.checkers", brief.People.Checkers, "people", 0, MostPeople);
        table.AddMean("seats.link", brief.Seats.Link.BytesPerSecond.ToDouble(), "B/s", 0, MostBytes);
        table.AddMean("seats.wan", brief.Seats.Wan.BytesPerSecond.ToDouble(), "B/s", 0, MostBytes);
        table.AddMean("shoot.bytes_per_hour", 1, "factor", 0, MostFactor);
        table.AddMean("finish.problem_factor", 1, "factor", 0, MostFactor);
        table.AddMean("offload.after_wrap", 1, "factor", 0, MostFactor);
        table.AddMean("offload.stations", brief.Offload.Stations, "stations", brief.Offload.Stations, brief.Offload.Stations + 1);
        table.AddMean("cards.more", 0, "cards a camera", 0, 10_000);
        table.AddMean("deliver.link", brief.Deliver.Link.BytesPerSecond.ToDouble(), "B/s", 0, MostBytes);
        if (brief.Viewing is { } viewing)
        {
            table.AddMean("people.viewing", viewing.People, "people", 0, MostPeople);
            table.AddMean("viewing.link", viewing.Link.BytesPerSecond.ToDouble(), "B/s", 0, MostBytes);
        }

        table.AddMean("edit.lock", 0, "days later", -MostDays, MostDays);
        table.AddMean("deliver.due", 0, "days later", -MostDays, MostDays);
        table.AddMean("farm.starts", -1e9, "s", -1e9, 1e9);
        table.AddChance("the farm's own noise");
        table.AddChance("rounds of review");
        foreach (NamedEvent named in brief.Events)
        {
            table.AddChance(named.Name);
        }

        return table;
    }
}
