using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>A log of intervals as the subject of a check: one hook-up is supposed for the whole of it.</summary>
internal static class LogSubject
{
    /// <summary>Reads it.</summary>
    /// <param name="path">The file, for messages.</param>
    /// <param name="file">The log.</param>
    /// <param name="request">What the command line says of the panel.</param>
    /// <param name="nominalOf">Finds the nominal voltage once the service is known.</param>
    /// <exception cref="InputRefusedException">There is no voltage or current of any phase in it.</exception>
    public static CheckSubject Of(string path, LogFile file, RecordingRequest request, Func<ServiceKind?, NominalVoltage?> nominalOf)
    {
        var log = file.Log;
        var service = request.Service?.Kind ?? ServiceFor(log);
        var readings = PanelLog.Read(log, 0, log.Count, service, nominalOf(request.Service?.Kind))
            ?? throw new InputRefusedException(
                ExitCode.InputUnusable,
                $"Cannot check '{path}': no column of it is a voltage or a current of one phase. A check needs volts and amperes of each phase, and watts and vars where the recorder logs them.");
        return new CheckSubject(
            readings with { IsServiceOpen = request.Service is null, FrequencyHertz = request.FrequencyHertz },
            ChannelsOf(file),
            [
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The log of {log.Count} intervals of {log.IntervalSeconds:0.###} s is judged as one hook-up, by its means and by how the voltages answer changes of the currents. When a lead or clamp changed meanwhile, only a guard of the log tells."),
                .. request.Service is null ? [] : MoreChannels(log, service),
                .. request.NotesOfLog,
                .. file.Warnings.Select(warning => warning.Says),
                .. file.Questions,
            ]);
    }

    /// <summary>Which column of a log was taken for which channel.</summary>
    internal static ImmutableArray<MatchedChannel> ChannelsOf(LogFile file) =>
        [.. file.Columns.Where(column => column.Role == ColumnRole.Value && IsUsed(column)).Select(column => new MatchedChannel(NameOf(column), column.Heading, column.Why))];

    /// <summary>The service that a log's columns look like.</summary>
    internal static ServiceKind ServiceFor(IntervalLog log)
    {
        bool Has(LogQuantity quantity, LogPlace place) => log.IndexOf(quantity, place) >= 0;
        if (Has(LogQuantity.Voltage, LogPlace.Phase3)) return ServiceKind.Wye;
        if (Has(LogQuantity.Voltage, LogPlace.Pair23)) return Has(LogQuantity.Current, LogPlace.Phase2) ? ServiceKind.Delta : ServiceKind.DeltaTwoClamp;
        return Has(LogQuantity.Current, LogPlace.Phase3) ? ServiceKind.Wye
            : Has(LogQuantity.Current, LogPlace.Phase2) ? ServiceKind.Split : ServiceKind.Single;
    }

    /// <summary>What a person must know of channels that the service has and the log does not, and the other way round.</summary>
    /// <param name="log">The log.</param>
    /// <param name="kind">The service that it is read for.</param>
    internal static IEnumerable<string> ChannelNotes(IntervalLog log, ServiceKind kind)
    {
        var (leads, clamps) = ChannelsOf(kind);
        ImmutableArray<string> volts = Names(log, leads, "V", LogQuantity.Voltage), amperes = Names(log, clamps, "I", LogQuantity.Current);
        // Where there are none at all the guard says so itself.
        string[] missing = [.. volts.IsEmpty ? [] : leads.Except(volts), .. amperes.IsEmpty ? [] : clamps.Except(amperes)];
        if (missing.Length > 0) yield return $"No column was found for {string.Join(", ", missing)}: nothing can be said of {(missing.Length == 1 ? "it" : "them")}.";
        foreach (var note in MoreChannels(log, kind)) yield return note;
    }

    // Channels that the log has and the service does not.
    private static IEnumerable<string> MoreChannels(IntervalLog log, ServiceKind kind)
    {
        var (leads, clamps) = ChannelsOf(kind);
        string[] more = [.. Names(log, leads, "V", LogQuantity.Voltage).Except(leads), .. Names(log, clamps, "I", LogQuantity.Current).Except(clamps)];
        if (more.Length > 0)
            yield return $"There are columns of {string.Join(", ", more)}, which the service '{Service.Of(kind).Name}' does not have: they are not judged. State the service with --service if it is another.";
    }

    private static (string[] Leads, string[] Clamps) ChannelsOf(ServiceKind kind)
    {
        var service = Service.Of(kind);
        return (service.IsThreeWire ? [] : [.. service.Leads.Where(lead => lead != Lead.VN).Select(lead => lead.ToString())],
            [.. service.Clamps.Where(clamp => clamp != Clamp.IN).Select(clamp => clamp.ToString())]);
    }

    // Without leads of its own a service has its voltages from line to line.
    private static ImmutableArray<string> Names(IntervalLog log, string[] own, string letter, LogQuantity quantity) => own.Length == 0 ? []
        : [.. ((LogPlace[])[LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3]).Where(place => log.IndexOf(quantity, place) >= 0).Select(place => letter + place.Suffix())];

    private static bool IsUsed(ColumnProposal column) => column.Statistic is LogStatistic.Mean or LogStatistic.Instant
        && column.Quantity is LogQuantity.Voltage or LogQuantity.Current or LogQuantity.ActivePower or LogQuantity.ReactivePower or LogQuantity.ApparentPower;

    private static string NameOf(ColumnProposal column) => column.Quantity switch
    {
        LogQuantity.Voltage => "V" + column.Place.Suffix(),
        LogQuantity.Current => "I" + column.Place.Suffix(),
        LogQuantity.ActivePower => "P" + column.Place.Suffix(),
        LogQuantity.ReactivePower => "Q" + column.Place.Suffix(),
        LogQuantity.ApparentPower => "S" + column.Place.Suffix(),
        var quantity => quantity.ToString(),
    };
}
