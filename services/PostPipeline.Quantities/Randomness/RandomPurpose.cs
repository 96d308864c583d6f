namespace PostPipeline.Quantities.Randomness;

/// <summary>
/// What a stream of random numbers is for. Each purpose has a stream of its own, so that a what-if run shares
/// every number that it does not change. A purpose keeps its number for ever: it is part of the seed's meaning.
/// </summary>
public enum RandomPurpose
{
    /// <summary>General use in tests and examples.</summary>
    General = 0,

    /// <summary>How the shoot expands into takes.</summary>
    Takes = 1,

    /// <summary>Uncertain inputs of a brief.</summary>
    Inputs = 2,

    /// <summary>Named events of a brief.</summary>
    Events = 3,

    /// <summary>Arrivals at a queue.</summary>
    Arrivals = 4,

    /// <summary>Durations of tasks.</summary>
    Durations = 5,

    /// <summary>Failures of tasks.</summary>
    Failures = 6,

    /// <summary>Slow nodes and availability.</summary>
    Nodes = 7,

    /// <summary>Errors of a prediction that all tasks of a kind share.</summary>
    SharedError = 8,

    /// <summary>Resampling for intervals.</summary>
    Bootstrap = 9,

    /// <summary>Folds and splits of data.</summary>
    Folds = 10,

    /// <summary>Synthetic cuts and clips for a rehearsal.</summary>
    Rehearsal = 11,

    /// <summary>Invented benchmark rows.</summary>
    InventedData = 12,

    /// <summary>Scrambling of quasi-random points.</summary>
    Scrambling = 13,

    /// <summary>Review rounds and re-delivery.</summary>
    Reviews = 14,

    /// <summary>Generated slates.</summary>
    Slates = 15,

    /// <summary>Exercises of a handout.</summary>
    Exercises = 16,
}
