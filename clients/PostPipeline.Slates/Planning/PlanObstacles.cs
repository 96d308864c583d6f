using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Searching;

namespace PostPipeline.Slates.Planning;

/// <summary>Says what is in the way where there is no plan.</summary>
internal static class PlanObstacles
{
    public static IReadOnlyList<string> Of(SlateProblem problem, SlateMapping mapping)
    {
        if (SearchIndex.TryCreate(mapping.Schedule) is not SearchIndex index)
        {
            return [];
        }

        OptionWindows windows = new(index);
        List<string> obstacles = [];
        for (int project = 0; project < problem.Projects.Count; project++)
        {
            SlateProject definition = problem.Projects[project];
            List<string> reasons = [];
            bool possible = false;
            for (int option = 0; option < definition.Options.Count; option++)
            {
                OptionIndex place = index.Options[mapping.OptionPlace(project, option)];
                possible |= windows.IsPossible(place);
                if (Reason(problem, definition, index, windows, place) is string reason)
                {
                    reasons.Add($"{definition.Options[option].Pipeline}: {reason}");
                }
            }

            if (!possible)
            {
                obstacles.Add($"{definition.Name} cannot be planned even alone ({string.Join("; ", reasons)})");
            }
        }

        return obstacles.Count > 0 ? obstacles : ["each project can be planned alone, but no plan for all of them was found within the deadlines and the horizon"];
    }

    private static string? Reason(SlateProblem problem, SlateProject project, SearchIndex index, OptionWindows windows, OptionIndex option)
    {
        if (option.Definition.Forbidden)
        {
            return "another pipeline has started";
        }

        SearchTask? stuck = Array.Find(option.Tasks, t => windows.EarliestEnd(t) > index.Horizon);
        if (stuck is not null)
        {
            foreach (ResourceUse use in stuck.Modes.SelectMany(m => m.Uses))
            {
                long most = index.Most[use.Resource].Max();
                if (stuck.Modes.All(m => m.Uses.Any(u => u.Resource == use.Resource && u.Amount > most)))
                {
                    return $"{stuck.Definition.Name} needs {use.Amount} of {problem.Resources[use.Resource].Name}, there are at most {most}";
                }
            }

            return $"{stuck.Definition.Name} does not end within the horizon of {index.Horizon} half-days";
        }

        int end = option.Tasks.Max(windows.EarliestEnd);
        return project.Deadline is int deadline && end > deadline ? $"it ends at half-day {end} at the earliest, the deadline is {deadline}" : null;
    }
}
