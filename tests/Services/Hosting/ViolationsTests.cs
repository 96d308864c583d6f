using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Services.Tests.Hosting;

public sealed class ViolationsTests
{
    [Fact]
    public void FieldPath_Nested_ReadsAsTheProtoNamesIt() =>
        Assert.Equal("cameras[2].frame_rate.denominator", FieldPath.Of("cameras")[2]["frame_rate"]["denominator"].ToString());

    [Fact]
    public void ThrowIfAny_ManyWrongFields_ListsAllInOrder()
    {
        Violations violations = new();
        violations.InRange("seed", -1L, 0L, 10L);
        violations.Count("items", 0, 1, 10_000);
        violations.Length("name", string.Empty, 1, 64);
        violations.InRange("share", double.NaN, 0.0, 1.0);
        violations.Present<object>("frame_rate", null);

        InvalidRequestException thrown = Assert.Throws<InvalidRequestException>(violations.ThrowIfAny);

        Assert.Equal(["seed", "items", "name", "share", "frame_rate"], thrown.Violations.Select(v => v.Field));
        Assert.Equal("seed is -1; allowed is 0 to 10", thrown.Violations[0].ToString());
        Assert.Equal("seed is -1; allowed is 0 to 10 (and 4 more)", thrown.Message);
    }

    [Fact]
    public void ThrowIfAny_NothingWrong_DoesNothing()
    {
        Violations violations = new();
        Assert.True(violations.InRange("seed", 10L, 0L, 10L));
        Assert.Equal(FrameRate.Fps25, violations.Check("rate", () => FrameRate.From(25, 1)));
        violations.ThrowIfAny();
    }

    [Fact]
    public void Check_DomainRefuses_GivesItsSentenceWithoutTheParameterNote()
    {
        Violations violations = new();
        violations.Check(FieldPath.Of("cameras")[0]["frame_rate"], () => FrameRate.From(24, 0));

        Violation violation = Assert.Single(violations.Listed);
        Assert.Equal("cameras[0].frame_rate", violation.Field);
        Assert.Equal("is refused: The denominator of a frame rate is 0; allowed is 1 or more.", violation.Problem);
    }

    [Fact]
    public void Add_BeyondTheListedMaximum_CountsTheRest()
    {
        Violations violations = new();
        for (int i = 0; i < 10_000; i++)
        {
            violations.Add(FieldPath.Of("items")[i], new string('x', 5_000));
        }

        InvalidRequestException thrown = Assert.Throws<InvalidRequestException>(violations.ThrowIfAny);
        Assert.Equal(Violations.MaximumListed, thrown.Violations.Count);
        Assert.Equal(10_000, thrown.Total);
        Assert.All(thrown.Violations, v => Assert.Equal(Violations.MaximumProblemLength, v.Problem.Length));
    }
}
