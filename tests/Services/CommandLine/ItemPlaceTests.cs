using PostPipeline.Client;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>Field paths are those of google.rpc.BadRequest: lists with the place of the item in brackets, parts parted by points.</summary>
public sealed class ItemPlaceTests
{
    [Theory]
    [InlineData("modes", "modes[0].mode.raster.width", 0, "mode.raster.width")]
    [InlineData("modes", "modes[12]", 12, "")]
    [InlineData("own_rows", "own_rows[3].features[gpu]", 3, "features[gpu]")]
    [InlineData("rows", "rows[2147483647]", int.MaxValue, "")]
    public void In_ItemOfTheList_HasItsPlaceAndTheRest(string list, string field, int index, string rest) =>
        Assert.Equal(new ItemPlace(index, rest), ItemPlace.In(list, field));

    [Fact]
    public void In_ListWithinAnItem_IsReadFromTheRest()
    {
        ItemPlace camera = ItemPlace.In("cameras", "cameras[2].takes[5].bytes")!.Value;
        Assert.Equal((2, new ItemPlace(5, "bytes")), (camera.Index, ItemPlace.In("takes", camera.Rest)));
    }

    [Theory]
    [InlineData("modes", "")]
    [InlineData("modes", "modes")]
    [InlineData("modes", "modes[")]
    [InlineData("modes", "modes[]")]
    [InlineData("modes", "modes[1")]
    [InlineData("modes", "modes]1[")]
    [InlineData("modes", "modes[-1]")]
    [InlineData("modes", "modes[+1]")]
    [InlineData("modes", "modes[ 1]")]
    [InlineData("modes", "modes[one]")]
    [InlineData("modes", "modes[2147483648]")]
    [InlineData("rows", "own_rows[1]")]
    [InlineData("takes", "cameras[2].takes[5].bytes")]
    public void In_AnythingElse_IsNone(string list, string field) => Assert.Null(ItemPlace.In(list, field));
}
