using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>Says where the voltages of an input are far from the nominal voltage that was stated for it: the verbs that judge by it share the note.</summary>
internal static class NominalNote
{
    /// <summary>The note of a log; nothing where the voltages fit or no nominal voltage was stated.</summary>
    /// <param name="log">The log.</param>
    /// <param name="service">The service that it is read for.</param>
    /// <param name="request">What was stated.</param>
    public static ImmutableArray<string> Of(IntervalLog log, ServiceKind service, RecordingRequest request) => Of(NominalMisfit.Find(log, service, Stated(service, request)));

    /// <summary>The note of a misfit; nothing for none.</summary>
    /// <param name="misfit">It.</param>
    public static ImmutableArray<string> Of(NominalMisfit? misfit) => misfit is null ? [] : [NominalWording.Of(misfit)];

    /// <summary>The misfit of readings.</summary>
    /// <param name="readings">The readings.</param>
    /// <param name="service">The service that they are read for.</param>
    /// <param name="stated">The nominal voltage; null when none was stated.</param>
    public static NominalMisfit? Of(IEnumerable<KeyValuePair<Channel, ChannelReading>> readings, ServiceKind service, NominalVoltage? stated) => NominalMisfit.Find(
        readings.Where(reading => reading.Value.Rms is > 0).ToDictionary(reading => reading.Key, reading => reading.Value.Rms!.Value), service, stated);

    /// <summary>What was stated, for a service; null for nothing that the service can have.</summary>
    public static NominalVoltage? Stated(ServiceKind service, RecordingRequest request) => NominalVoltage.TryParse(request.Nominal, service, out var stated) ? stated : null;
}
