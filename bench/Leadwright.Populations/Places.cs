using Leadwright.Core.Hookups;

namespace Leadwright.Populations;

/// <summary>A hook-up in one short line.</summary>
internal static class Places
{
    public static string Of(Hookup hookup) =>
        string.Join(" ", hookup.Leads.Select(lead => $"{lead.Key}:{lead.Value?.ToString() ?? "air"}"))
        + " " + string.Join(" ", hookup.Clamps.Select(clamp =>
            $"{clamp.Key}:{(clamp.Value.Reversed ? "-" : "")}{clamp.Value.On?.ToString() ?? "air"}{(clamp.Value.Scale == 1 ? "" : "x" + clamp.Value.Scale)}"));
}
