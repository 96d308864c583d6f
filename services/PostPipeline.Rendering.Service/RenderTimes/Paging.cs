using PostPipeline.Hosting.Validation;

namespace PostPipeline.Rendering.Service.RenderTimes;

/// <summary>Pages of a list that is read whole.</summary>
internal static class Paging
{
    private const int MostItems = 1_000;
    private const int DefaultSize = 100;

    /// <summary>How many items to skip and how many to give.</summary>
    /// <param name="size">The size asked for; 0 for the default.</param>
    /// <param name="token">The token of the answer before; empty for the first page.</param>
    public static (int Skip, int Size) Read(int size, string token)
    {
        Violations violations = new();
        violations.InRange("page_size", size, 0, MostItems);
        int skip = 0;
        violations.Require(
            "page_token", token.Length == 0 || (int.TryParse(token, out skip) && skip >= 0), $"is '{token}'; allowed is the token of the answer before, or nothing");
        violations.ThrowIfAny();
        return (skip, size == 0 ? DefaultSize : size);
    }

    /// <summary>The token of the next page; empty on the last.</summary>
    /// <param name="skip">Items before this page.</param>
    /// <param name="size">Items on this page at most.</param>
    /// <param name="total">Items in all.</param>
    public static string Next(int skip, int size, int total) => total - skip > size ? $"{skip + size}" : string.Empty;
}
