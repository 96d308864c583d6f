namespace PostPipeline.Farms.Simulations;

/// <summary>
/// What happens at an instant. The number is the priority among simultaneous events: what ends comes before what closes,
/// closing before opening, and all of it before new work, so that a task that ends as its window closes is done.
/// </summary>
internal enum EventKind
{
    /// <summary>A node's task is done with computing, or with the phase before it.</summary>
    Task = 0,

    /// <summary>A calendar opens or closes.</summary>
    Calendar = 1,

    /// <summary>A node goes down.</summary>
    NodeDown = 2,

    /// <summary>A node comes back.</summary>
    NodeUp = 3,

    /// <summary>The whole farm stops.</summary>
    FarmDown = 4,

    /// <summary>The whole farm goes on.</summary>
    FarmUp = 5,

    /// <summary>A task that was set aside has been mended.</summary>
    Mended = 6,
}
