namespace PostPipeline.Studies.Briefs;

/// <summary>How a value is known. The order is from the surest to the least sure.</summary>
public enum Known
{
    /// <summary>Measured by the production itself.</summary>
    Measured = 0,

    /// <summary>Told by someone who answers for it: a price, a data sheet, a contract.</summary>
    Quoted = 1,

    /// <summary>Somebody's estimate; also what a value is taken for when its writer does not say.</summary>
    Guessed = 2,

    /// <summary>A default of this program, invented for lack of anything better.</summary>
    Invented = 3,
}
