namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>Where the pictures come from that the cut is made with.</summary>
public enum ProxyOrigin
{
    /// <summary>No proxies: the cut is made from the originals.</summary>
    None = 0,

    /// <summary>The camera records proxies beside the originals.</summary>
    InCamera = 1,

    /// <summary>Proxies are made from the originals afterwards.</summary>
    InPost = 2,
}
