using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Client.Model;

/// <summary>A verdict as the screen shows it.</summary>
/// <param name="Readings">The readings that were judged.</param>
/// <param name="Document">The verdict in words.</param>
/// <param name="Naming">How the site's conductors are called.</param>
/// <param name="Took">How long the check took on this device.</param>
public sealed record HookupAnswer(PanelReadings Readings, CheckDocument Document, ConductorNaming Naming, TimeSpan Took);
