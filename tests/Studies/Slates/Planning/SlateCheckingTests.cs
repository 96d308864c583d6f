using PostPipeline.Slates.Planning;
using Xunit;
using static PostPipeline.Studies.Tests.Slates.Planning.SlatePlannerTests;

namespace PostPipeline.Studies.Tests.Slates.Planning;

public class SlateCheckingTests
{
    public static TheoryData<string, string, string> Cases => new()
    {
        { "twice", "projects", "the name 'a' stands twice" },
        { "options", "projects[a].options", "there is none" },
        { "farm", "resources[nodes].capacity", "the farm class has 0 nodes" },
        { "calendar", "calendars[never].open", "no half-day is worked" },
        { "expired", "projects[a].hold", "the hold expired at half-day 3, now is 5" },
        { "circle", "projects[a].options[transcode].stages", "in a circle" },
        { "unknown", "projects[a].options[proxy].stages[conform].uses", "'editors' is not a resource" },
        { "nodes", "projects[a].options[transcode].stages[transcode].farm[nodes].nodeCounts", "there is none" },
        { "kind", "projects[a].options[transcode].stages[transcode].farm[online]", "this is not a farm class" },
        { "weight", "projects[a].weight", "0 is not allowed; allowed is 1 to 1000000" },
        { "together", "projects[a].options[proxy].stages[conform].calendar", "no half-day is worked in all the calendars" },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void Plan_BadInput_NamesTheField(string what, string field, string message)
    {
        SlateProblem good = Slate([Project("a", 4, 10, 15), Project("b", 4, 10, 15)]);
        SlateProject a = good.Projects[0];
        SlateOption transcode = a.Options[0];
        SlateOption proxy = a.Options[1];
        SlateProblem bad = what switch
        {
            "twice" => good with { Projects = [a, a] },
            "options" => With(a with { Options = [] }),
            "farm" => good with { Resources = [good.Resources[0] with { Capacity = 0 }, good.Resources[1]] },
            "calendar" => good with { Calendars = [new("never", new bool[40])] },
            "expired" => With(a with { Hold = HoldRank.SecondHold, HoldExpires = 3 }) with { Now = 5 },
            "circle" => With(a with { Options = [transcode with { Stages = [new("x") { After = [new("y")] }, new("y") { After = [new("x")] }] }] }),
            "unknown" => With(a with { Options = [proxy with { Stages = [proxy.Stages[0] with { Uses = [new("editors", 1)] }] }] }),
            "nodes" => With(a with { Options = [transcode with { Stages = [transcode.Stages[0] with { Farm = [new("nodes", 5, [])] }] }] }),
            "kind" => With(a with { Options = [transcode with { Stages = [transcode.Stages[0] with { Farm = [new("online", 5, [1])] }] }] }),
            "weight" => With(a with { Weight = 0 }),
            "together" => With(a with { Options = [proxy with { Stages = [proxy.Stages[0] with { Calendar = "early", Uses = [new("nodes", 1)] }] }] }) with
            {
                Calendars = [new("early", [.. Enumerable.Range(0, 40).Select(s => s < 20)]), new("later", [.. Enumerable.Range(0, 40).Select(s => s >= 20)])],
                Resources = [good.Resources[0] with { Calendar = "later" }, good.Resources[1]],
            },
            _ => throw new ArgumentOutOfRangeException(nameof(what)),
        };
        SlateProblemException error = Assert.Throws<SlateProblemException>(() => SlatePlanner.Plan(bad, new() { Seconds = 1 }));
        Assert.Contains(error.Faults, f => f.Field == field && f.Message.Contains(message, StringComparison.Ordinal));

        SlateProblem With(SlateProject project) => good with { Projects = [project, good.Projects[1]] };
    }

    [Fact]
    public void Faults_SeveralWrong_NamesAll() =>
        Assert.Equal(3, SlateChecking.Faults(Slate([Project("", 4, 1, 2), Project("b", 50, 1, 2) with { Weight = 0 }])).Count);
}
