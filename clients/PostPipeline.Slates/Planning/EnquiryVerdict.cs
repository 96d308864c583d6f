namespace PostPipeline.Slates.Planning;

/// <summary>Whether an enquiry fits the slate.</summary>
public enum EnquiryVerdict
{
    /// <summary>It is on time, nobody is later, nothing more is rented, no other project takes a dearer pipeline.</summary>
    Yes,

    /// <summary>It is on time and nobody is later, at a price.</summary>
    AtAPrice,

    /// <summary>It or another project would be later than without it.</summary>
    OnlyIfDatesGiveWay,

    /// <summary>No plan was found that holds it.</summary>
    No,
}
