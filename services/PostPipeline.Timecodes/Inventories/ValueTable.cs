namespace PostPipeline.Timecodes.Inventories;

/// <summary>Distinct values numbered from 1; 0 stands for "not said". For the few formats, sensor rates and rasters of an inventory.</summary>
/// <typeparam name="T">The value.</typeparam>
internal sealed class ValueTable<T>
    where T : notnull
{
    /// <summary>The most distinct values.</summary>
    public const int Maximum = ushort.MaxValue - 1;

    private readonly List<T> values = [];
    private readonly Dictionary<T, ushort> ids = [];

    /// <summary>How many distinct values there are.</summary>
    public int Count => values.Count;

    /// <summary>The value of a number above 0.</summary>
    public T this[int id] => values[id - 1];

    /// <summary>The number of a value; 0 where it is not there.</summary>
    public ushort Find(T value) => ids.TryGetValue(value, out ushort id) ? id : (ushort)0;

    /// <summary>The number of a value, new where it was not there.</summary>
    public ushort Intern(T value)
    {
        if (!ids.TryGetValue(value, out ushort id))
        {
            if (values.Count >= Maximum)
            {
                throw new ArgumentOutOfRangeException(nameof(value), value, $"An inventory has more than {Maximum} different values of one column.");
            }

            values.Add(value);
            id = (ushort)values.Count;
            ids.Add(value, id);
        }

        return id;
    }
}
