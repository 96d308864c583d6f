namespace PostPipeline.Embedded.Calls;

/// <summary>A method of a service class, whatever its messages.</summary>
internal interface IBoundMethod
{
    /// <summary>The name as the network knows it, for example <c>/postpipeline.timecode.v1.TimecodeService/FormatLabels</c>.</summary>
    string FullName { get; }
}
