using System.Globalization;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Tapes;

/// <summary>
/// A generation of linear tape: native capacity and rate, and what its drives still read and write. Sources disagree in
/// places, so a user can give other figures.
/// </summary>
/// <param name="Generation">Its number.</param>
/// <param name="Capacity">Native bytes of a cartridge.</param>
/// <param name="Rate">Native rate of a full-height drive.</param>
/// <param name="OldestRead">The oldest generation that its drives read.</param>
/// <param name="OldestWritten">The oldest generation that its drives write.</param>
/// <param name="CalibrationMinutes">The longest that a new cartridge takes on its first load before it can be written.</param>
/// <param name="Source">Where the figures come from.</param>
public sealed record TapeGeneration(int Generation, DataSize Capacity, DataRate Rate, int OldestRead, int OldestWritten, int CalibrationMinutes, string Source)
{
    private static readonly Lazy<IReadOnlyList<TapeGeneration>> Loaded = new(() => [.. DataTable.Rows("tapes.csv").Select(Read)]);

    /// <summary>The generations that go with this library, oldest first.</summary>
    public static IReadOnlyList<TapeGeneration> All => Loaded.Value;

    /// <summary>A generation by number.</summary>
    /// <param name="generation">5 to 10.</param>
    /// <exception cref="ArgumentOutOfRangeException">It is not in the table.</exception>
    public static TapeGeneration Find(int generation) =>
        All.FirstOrDefault(g => g.Generation == generation)
        ?? throw new ArgumentOutOfRangeException(nameof(generation), generation, $"Generation {generation} is not in the table; allowed are {All[0].Generation} to {All[^1].Generation}.");

    /// <summary>Seconds to fill a cartridge at the native rate, exact.</summary>
    public Rational FillSeconds => Capacity.Bytes / Rate.BytesPerSecond;

    /// <summary>Whether a drive of this generation reads a cartridge of another.</summary>
    /// <param name="cartridge">The cartridge's generation.</param>
    public bool Reads(int cartridge) => cartridge >= OldestRead && cartridge <= Generation;

    /// <summary>Whether a drive of this generation writes a cartridge of another.</summary>
    /// <param name="cartridge">The cartridge's generation.</param>
    public bool Writes(int cartridge) => cartridge >= OldestWritten && cartridge <= Generation;

    private static TapeGeneration Read(string[] row) => new(
        (int)DataTable.Whole(row[0]),
        DataSize.FromBytes(DataTable.Whole(row[1])),
        DataRate.FromBytesPerSecond(DataTable.Whole(row[2])),
        int.Parse(row[3], CultureInfo.InvariantCulture),
        int.Parse(row[4], CultureInfo.InvariantCulture),
        int.Parse(row[5], CultureInfo.InvariantCulture),
        row[6]);
}
