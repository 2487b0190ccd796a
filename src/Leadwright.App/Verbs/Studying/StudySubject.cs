using System.Collections.Immutable;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Events;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Verbs.Studying;

/// <summary>What one input of a study holds.</summary>
/// <param name="Path">The file as it was named.</param>
/// <param name="Data">The values.</param>
/// <param name="ServiceName">The service in words.</param>
/// <param name="Events">Voltage events; null when the file holds none and none could be looked for.</param>
/// <param name="Notes">What a person must know.</param>
public sealed record StudySubject(string Path, StudyData Data, string ServiceName, ImmutableArray<StudyEvent>? Events, ImmutableArray<string> Notes)
{
    /// <summary>The log as it was read; null when the values were measured from samples.</summary>
    public LogFile? File { get; init; }

    /// <summary>False when nobody stated the service and totals alone, which every service has, can't tell it.</summary>
    public bool IsServiceKnown { get; init; } = true;

    /// <summary>How many corrections the values were mended by before they are studied; 0 for values as they were read.</summary>
    public int Corrections { get; init; }
}
