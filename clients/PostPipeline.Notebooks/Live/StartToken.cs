using System.Security.Cryptography;
using System.Text;

namespace PostPipeline.Notebooks.Live;

/// <summary>A secret that opens one session and is spent by it; the session then goes on by a cookie of its own.</summary>
internal sealed class StartToken
{
    private readonly Lock gate = new();
    private readonly string session = Secret();
    private bool spent;

    /// <summary>The secret of the start address.</summary>
    public string Value { get; } = Secret();

    /// <summary>Gives the cookie's value for the right token, once.</summary>
    public string? Spend(string? token)
    {
        lock (gate)
        {
            if (spent || !Same(token, Value))
            {
                return null;
            }

            spent = true;
            return session;
        }
    }

    /// <summary>Whether a cookie is that of the session.</summary>
    public bool IsSession(string? cookie)
    {
        lock (gate)
        {
            return spent && Same(cookie, session);
        }
    }

    private static string Secret() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));

    private static bool Same(string? given, string wanted) => given is not null && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(given), Encoding.UTF8.GetBytes(wanted));
}
