using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>Reads what was typed after <c>--nominal</c>.</summary>
internal static class NominalText
{
    /// <summary>The nominal voltages.</summary>
    /// <param name="text">As on the nameplate; null when not given.</param>
    /// <param name="known">The service; null when it is not known: two values belong to a kind of service, and what one value means depends on
    /// the service, so that it waits for that.</param>
    /// <exception cref="InputRefusedException">The text is no nominal voltage of the service.</exception>
    public static NominalVoltage? Parse(string? text, ServiceKind? known)
    {
        if (text is null) return null;
        var service = known ?? (NominalVoltage.TryParse(text, ServiceKind.Split, out _) ? ServiceKind.Split : ServiceKind.Wye);
        if (NominalVoltage.TryParse(text, service, out var nominal))
            return known is null && !text.Contains('/', StringComparison.Ordinal) ? null : nominal;
        throw new InputRefusedException(
            ExitCode.WrongUsage,
            $"--nominal: '{text}' is no nominal voltage of a {Service.Of(service).Name} service. Write it as on the nameplate, such as 230/400 or 480.");
    }
}
