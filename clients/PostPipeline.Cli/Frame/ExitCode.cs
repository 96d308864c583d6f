namespace PostPipeline.Cli.Frame;

/// <summary>What the process's exit code says.</summary>
internal static class ExitCode
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>Done, and the answer is no: a check that failed, no admissible pipeline.</summary>
    public const int No = 1;

    /// <summary>The command line or a file is wrong; the message says where and what is allowed.</summary>
    public const int BadInput = 2;

    /// <summary>A service could not be reached, refused or failed.</summary>
    public const int ServiceFailed = 3;

    /// <summary>A file could not be read or written.</summary>
    public const int FileFailed = 4;

    /// <summary>A fault of this program.</summary>
    public const int Fault = 70;

    /// <summary>Given up by Ctrl-C.</summary>
    public const int GivenUp = 130;
}
