using System.Security.Cryptography;
using System.Text;

namespace Leadwright.App.Hosting.Lan;

/// <summary>The code that a device of the local network shows once before it may open the screens.</summary>
/// <remarks>Eight signs out of 32, 40 bits: with <see cref="MostWrong"/> wrong tries in <see cref="Pause"/> a guess would take longer than
/// the host runs. Letters and figures that look alike are left out: it is read from a screen and typed with gloves on.</remarks>
/// <param name="clock">Gives the time, for the pause after wrong tries.</param>
internal sealed class PairingCode(TimeProvider clock)
{
    /// <summary>Wrong tries before the pause.</summary>
    public const int MostWrong = 5;

    private const string Signs = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
    private readonly Lock _gate = new();
    private int _wrong;
    private DateTimeOffset _closedUntil;

    /// <summary>How long no code is taken after too many wrong ones.</summary>
    public static TimeSpan Pause => TimeSpan.FromMinutes(1);

    /// <summary>The code, drawn when the host starts.</summary>
    public string Text { get; } = RandomNumberGenerator.GetString(Signs, 8);

    /// <summary>What came of a try.</summary>
    /// <param name="typed">What was typed; case, spaces and hyphens do not count.</param>
    public PairingAnswer Try(string? typed)
    {
        var plain = new string([.. (typed ?? "").Where(char.IsAsciiLetterOrDigit)]).ToUpperInvariant();
        lock (_gate)
        {
            if (clock.GetUtcNow() < _closedUntil) return PairingAnswer.Paused;
            if (CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(plain), Encoding.ASCII.GetBytes(Text)))
            {
                _wrong = 0;
                return PairingAnswer.Right;
            }

            if (++_wrong < MostWrong) return PairingAnswer.Wrong;
            (_wrong, _closedUntil) = (0, clock.GetUtcNow() + Pause);
            return PairingAnswer.Paused;
        }
    }
}

/// <summary>What came of a try with a code.</summary>
internal enum PairingAnswer
{
    /// <summary>It was the code.</summary>
    Right,

    /// <summary>It was not.</summary>
    Wrong,

    /// <summary>Too many were wrong: none is taken for a while.</summary>
    Paused,
}
