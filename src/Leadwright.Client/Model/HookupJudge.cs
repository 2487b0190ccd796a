using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>Judges readings; see <see cref="HookupCheck"/>.</summary>
/// <param name="readings">What the instrument shows.</param>
/// <param name="options">What is known of the site.</param>
public delegate HookupVerdict HookupJudge(PanelReadings readings, CheckOptions options);
