using System.Collections.Concurrent;
using System.Security.Cryptography;

namespace Leadwright.App.Hosting.Lan;

/// <summary>The devices that showed the code since the host started; ended with it.</summary>
internal sealed class PairedDevices
{
    private readonly ConcurrentDictionary<string, bool> _tokens = new(StringComparer.Ordinal);

    /// <summary>Takes a device in.</summary>
    /// <returns>The token that it shows from now on, 256 random bits.</returns>
    public string Add()
    {
        var token = RandomNumberGenerator.GetHexString(64);
        _tokens[token] = true;
        return token;
    }

    /// <summary>True when a token is one of those.</summary>
    /// <param name="token">The token shown; null when none was.</param>
    public bool Knows(string? token) => token is not null && _tokens.ContainsKey(token);
}
