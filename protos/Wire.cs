namespace PostPipeline.Contracts;

/// <summary>
/// What travels beside the messages: names of headers, the version of the contract and the size of a message. The
/// one hand-written file of this project, because both sides of a call must agree on it as they do on the protos.
/// </summary>
public static class Wire
{
    /// <summary>
    /// Version of the contract. Raised where the meaning of a field changes in a way that an older caller would
    /// misread; additions do not raise it.
    /// </summary>
    public const string ContractVersion = "1";

    /// <summary>Request and response header with the version of the contract.</summary>
    public const string ContractHeader = "postpipeline-contract";

    /// <summary>Request and response header with the version of the code that computes.</summary>
    public const string EngineHeader = "postpipeline-engine";

    /// <summary>Request header and response trailer with the correlation id of a call: 1 to 64 letters, digits or hyphens.</summary>
    public const string CorrelationHeader = "postpipeline-correlation";

    /// <summary>The largest message in bytes, either way: 3 MB.</summary>
    public const int MaximumMessageBytes = 3_000_000;

    /// <summary>The domain of the reasons in <c>google.rpc.ErrorInfo</c>.</summary>
    public const string ErrorDomain = "postpipeline";

    /// <summary>Version of the code that computes, for example <c>0.1.0</c>. Answers of unlike engines are not compared.</summary>
    public static string EngineVersion { get; } = typeof(Wire).Assembly.GetName().Version!.ToString(3);
}
