namespace PostPipeline.Timecodes.Inventories;

/// <summary>Whether a range can be taken out of a file without encoding it again; it depends on coding and container.</summary>
public enum Trimmability
{
    /// <summary>Nobody has said.</summary>
    Unknown = 0,

    /// <summary>A range can be copied.</summary>
    Yes = 1,

    /// <summary>Only the whole file can.</summary>
    No = 2,
}
