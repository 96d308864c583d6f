namespace PostPipeline.Slates.Searching;

/// <summary>How a task's mode is picked when an option is placed.</summary>
internal enum ModeRule
{
    /// <summary>The mode that ends first.</summary>
    First,

    /// <summary>The mode with the least work that still lets the option end in time; else the one that ends first.</summary>
    Thrifty,

    /// <summary>Any mode.</summary>
    Any,

    /// <summary>As in the running plan where it still fits; else the mode that ends first.</summary>
    AsPlanned,
}
