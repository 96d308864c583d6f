namespace PostPipeline.Notebooks.Parameters;

/// <summary>What a parameter takes.</summary>
public enum ParameterKind
{
    /// <summary>A number between two bounds.</summary>
    Number,

    /// <summary>One of a list.</summary>
    Choice,

    /// <summary>Yes or no.</summary>
    Flag,

    /// <summary>A calendar date between two bounds.</summary>
    Date,

    /// <summary>One line of text.</summary>
    Text,

    /// <summary>A file named on the command line; a page cannot set it.</summary>
    File,
}
