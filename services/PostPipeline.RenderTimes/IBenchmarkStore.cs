using System.Collections.Immutable;

namespace PostPipeline.RenderTimes;

/// <summary>
/// Where benchmark sets and models are kept. A set is immutable and named by the hash of its content; it is there
/// wholly or not at all.
/// </summary>
public interface IBenchmarkStore
{
    /// <summary>Starts an import; nothing is to be seen of it until it is committed.</summary>
    /// <param name="name">A name for people.</param>
    /// <param name="schema">What the columns are for.</param>
    /// <param name="invented">Whether the rows are invented.</param>
    /// <exception cref="StoreInUseException">Another process is writing.</exception>
    IBenchmarkImport BeginImport(string name, TableSchema schema, bool invented);

    /// <summary>All sets, by name and then by hash.</summary>
    ImmutableArray<BenchmarkSetInfo> List();

    /// <summary>The description of a set; null where there is none of that name.</summary>
    /// <param name="id">The content hash.</param>
    BenchmarkSetInfo? Find(string id);

    /// <summary>The rows of a set, in the order of the import.</summary>
    /// <param name="id">The content hash of a set that is there.</param>
    IEnumerable<ImmutableArray<string>> ReadRows(string id);

    /// <summary>Deletes a set; false where there is none of that name.</summary>
    /// <param name="id">The content hash.</param>
    /// <exception cref="StoreInUseException">Another process is writing.</exception>
    bool Delete(string id);

    /// <summary>Keeps a model.</summary>
    /// <param name="model">The model.</param>
    /// <exception cref="StoreInUseException">Another process is writing.</exception>
    void SaveModel(RenderTimeModel model);

    /// <summary>A kept model; null where there is none of that name.</summary>
    /// <param name="id">The model's name.</param>
    RenderTimeModel? FindModel(string id);

    /// <summary>The records of all kept models, by name.</summary>
    ImmutableArray<ModelRecord> ListModels();
}
