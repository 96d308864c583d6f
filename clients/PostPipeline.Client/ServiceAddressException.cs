namespace PostPipeline.Client;

/// <summary>The services cannot be found at the addresses that were given.</summary>
public sealed class ServiceAddressException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="message">Which address, and what it does or does not serve.</param>
    /// <param name="cause">What the transport said, if it said anything.</param>
    public ServiceAddressException(string message, Exception? cause = null)
        : base(message, cause)
    {
    }
}
