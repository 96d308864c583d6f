namespace PostPipeline.Flows;

/// <summary>What holds a fluid service back.</summary>
public enum FluidLimit
{
    /// <summary>The nodes' own speed.</summary>
    Nodes = 0,

    /// <summary>Licences.</summary>
    Licences = 1,

    /// <summary>Storage bandwidth.</summary>
    Storage = 2,
}
