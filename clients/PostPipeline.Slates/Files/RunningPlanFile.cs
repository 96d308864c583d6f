using System.Text.Json;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;

namespace PostPipeline.Slates.Files;

/// <summary>
/// A plan that people have adopted, as it was written down: what the command's <c>slate plan --json</c> prints. It is read in
/// two steps: its form, and, once the slate is evaluated, whether it is a plan of that slate.
/// </summary>
public sealed class RunningPlanFile
{
    /// <summary>The schema of the file.</summary>
    public const string Schema = "postpipeline.slate.plan/1";

    private const int MostItems = 10_000;
    private readonly string file;
    private readonly JsonElement root;

    private RunningPlanFile(string file, JsonElement root, int draws) => (this.file, this.root, Draws) = (file, root, draws);

    /// <summary>Draws that its durations come from.</summary>
    public int Draws { get; }

    /// <summary>Reads the file.</summary>
    /// <param name="path">A UTF-8 JSON file of at most 1 MB.</param>
    /// <exception cref="BriefException">The file cannot be used.</exception>
    public static RunningPlanFile ReadFile(string path) => Read(path, BriefText.Read(path, "write the plan with `slate plan --json`"));

    /// <summary>Reads the file from its text.</summary>
    /// <param name="file">What to call it in messages.</param>
    /// <param name="text">JSON.</param>
    /// <exception cref="BriefException">This is no plan.</exception>
    public static RunningPlanFile Read(string file, string text)
    {
        JsonElement root;
        try
        {
            using JsonDocument document = JsonDocument.Parse(text);
            root = document.RootElement.Clone();
        }
        catch (JsonException error)
        {
            string why = error.Message.Split(" LineNumber:", StringSplitOptions.None)[0].TrimEnd('.', ' ');
            throw new BriefException([new(file, (error.LineNumber ?? 0) + 1, (error.BytePositionInLine ?? 0) + 1, string.Empty, string.Empty, $"this is not JSON ({why}); what `slate plan --json` prints is expected")]);
        }

        List<BriefProblem> problems = [];
        JsonPlace top = new(file, string.Empty, root, problems);
        if (root.ValueKind != JsonValueKind.Object)
        {
            throw new BriefException(file, "this is no plan; what `slate plan --json` prints is expected");
        }

        JsonPlace schema = top["schema"];
        if (schema.Text() is { Length: > 0 } given && given != Schema)
        {
            schema.Problem($"allowed is {Schema}, which `slate plan --json` prints");
        }

        if (problems.Count == 0 && root.GetProperty("schema").GetString() == Schema && top["result"]["planned"] is { IsThere: true } planned && root.GetProperty("result").GetProperty("planned").ValueKind != JsonValueKind.True)
        {
            planned.Problem("no plan was found, so none can be followed; true is expected");
        }

        int draws = problems.Count > 0 ? 0 : (int)top["result"]["slate"]["draws"].Whole(20, DrawSet.MaximumDraws);
        return problems.Count == 0 ? new(file, root, draws) : throw new BriefException(problems);
    }

    /// <summary>The plan on its slate.</summary>
    /// <param name="slate">The slate as it is read now.</param>
    /// <param name="problem">The same evaluated, at its own level.</param>
    /// <param name="enquiry">A project that the plan need not have and that is left out where it has; null for none.</param>
    /// <exception cref="BriefException">It is the plan of another slate, or of this one before it changed; every difference is listed.</exception>
    public SlatePlan On(Slate slate, SlateProblem problem, string? enquiry = null)
    {
        List<BriefProblem> problems = [];
        return Plan(new(slate, problem, enquiry, null), problems);
    }

    /// <summary>
    /// What of the plan still fits its slate after that has changed, to plan on from: projects, pipelines, stages and rents that
    /// the slate does not have any more are left out, and each is noted.
    /// </summary>
    /// <param name="slate">The slate as it is read now.</param>
    /// <param name="problem">The same evaluated, at its own level.</param>
    /// <param name="leftOut">Takes what is left out, each with its place.</param>
    /// <exception cref="BriefException">It is the plan of another slate, or damaged.</exception>
    public SlatePlan OnChanged(Slate slate, SlateProblem problem, ICollection<string> leftOut) => Plan(new(slate, problem, null, leftOut), []);

    private SlatePlan Plan(RunningPlanReader reader, List<BriefProblem> problems)
    {
        SlatePlan plan = reader.Plan(new JsonPlace(file, string.Empty, root, problems)["result"], MostItems);
        return problems.Count == 0 ? plan : throw new BriefException([.. problems.Take(100)]);
    }
}
