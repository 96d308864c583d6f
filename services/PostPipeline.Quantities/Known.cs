namespace PostPipeline.Quantities;

/// <summary>How a number is known; a plan shows how much of it rests on guesses.</summary>
public enum Known
{
    /// <summary>Not said.</summary>
    Unspecified = 0,

    /// <summary>Measured by the user, or here.</summary>
    Measured = 1,

    /// <summary>Stated by a standard, a manual or a supplier.</summary>
    Quoted = 2,

    /// <summary>Somebody's guess.</summary>
    Guessed = 3,

    /// <summary>An invented default of this software; a user replaces it.</summary>
    Invented = 4,
}
