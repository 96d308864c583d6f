using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>The ways into an inventory that the ladder needs, each made when an event first asks for it.</summary>
internal sealed class ClipIndex
{
    private readonly Inventory inventory;
    private readonly ClipKind target;
    private readonly Dictionary<int, (TextTable Prefixes, IntervalGroups Groups)> byPrefix = [];
    private NameIndex? names;
    private IntervalGroups? byReel;
    private IntervalGroups? byCamera;
    private IntervalGroups? byDay;

    public ClipIndex(Inventory inventory, ClipKind target)
    {
        this.inventory = inventory;
        this.target = target;
    }

    public NameIndex Names => names ??= new(inventory.Columns, inventory.RowCount);

    public IntervalGroups ByReel => byReel ??= Build(row => IntervalGroups.Key(inventory.Columns.Rows[row].Reel, inventory.Columns.Rows[row].Format));

    public IntervalGroups ByCamera => byCamera ??= Build(row =>
        inventory.Columns.Rows[row].Camera == 0 ? -1 : IntervalGroups.Key(inventory.Columns.Rows[row].Camera, inventory.Columns.Rows[row].Format));

    public IntervalGroups ByDay => byDay ??= Build(row =>
        inventory.Columns.Rows[row].Day < 0 ? -1 : IntervalGroups.Key(inventory.Columns.Rows[row].Day, inventory.Columns.Rows[row].Format));

    /// <summary>Bytes that the indexes made so far occupy.</summary>
    public long MemoryBytes => (names?.MemoryBytes ?? 0) + (byReel?.MemoryBytes ?? 0) + (byCamera?.MemoryBytes ?? 0) + (byDay?.MemoryBytes ?? 0)
        + byPrefix.Values.Sum(p => p.Groups.MemoryBytes + p.Prefixes.MemoryBytes);

    /// <summary>Whether a row may be the answer.</summary>
    public bool IsTarget(int row) => inventory.Columns.Kind(row) == target && inventory.StandsAlone(row);

    /// <summary>Clips of reels that are longer than a length, grouped by what is left when they are cut off there.</summary>
    public IntervalGroups ByPrefix(int length, ReadOnlySpan<byte> prefix, out int prefixId)
    {
        if (!byPrefix.TryGetValue(length, out (TextTable Prefixes, IntervalGroups Groups) index))
        {
            TextTable prefixes = new();
            TextTable reels = inventory.Reels;
            int[] prefixOfReel = new int[reels.Count];
            for (int id = 0; id < reels.Count; id++)
            {
                prefixOfReel[id] = reels[id].Length > length ? prefixes.Intern(reels[id][..length]) : -1;
            }

            index = (prefixes, Build(row =>
                prefixOfReel[inventory.Columns.Rows[row].Reel] < 0 ? -1 : IntervalGroups.Key(prefixOfReel[inventory.Columns.Rows[row].Reel], inventory.Columns.Rows[row].Format)));
            byPrefix.Add(length, index);
        }

        prefixId = index.Prefixes.Find(prefix);
        return index.Groups;
    }

    private IntervalGroups Build(Func<int, long> keyOf) =>
        IntervalGroups.Build(inventory.Columns, inventory.RowCount, row => IsTarget(row) ? keyOf(row) : -1);
}
