using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>A high-leg service whose high leg is not at B: its lines are renamed while it is judged, and named as the recorder does afterwards.</summary>
/// <remarks>Where the high leg is put differs from place to place and between panels and meters (methods of the trade; see docs/methods/services.md). Names of lines are
/// names: with B and the high leg's line exchanged, leads and clamps with them, every relation is that of a high leg at B, and only the rotation turns about.</remarks>
internal sealed class HighLegNames
{
    private const int AskedRows = 5;
    private readonly int _place;

    private HighLegNames(Conductor place) => _place = (int)place;

    /// <summary>Finds where the high leg is; null where it is at B or the service has none.</summary>
    public static HighLegNames? Find(IntervalLog log, GuardOptions options, CancellationToken cancellation)
    {
        if (options.Service != ServiceKind.HighLeg || Highest(log, _ => true) is not { } high || high == Conductor.B) return null;
        if (options.ProvedHookup is { IsRight: true }) return new HighLegNames(high);
        // A lead on the wrong line reads the same: the hook-up check weighs both with the currents.
        var frame = GuardFrame.Of(log, options);
        double there = 0, elsewhere = 0;
        foreach (var row in AnchorJudge.Telling(frame, [new RowPiece(0, log.Count - 1, default)], AskedRows))
        {
            cancellation.ThrowIfCancellationRequested();
            var verdict = HookupCheck.Judge(AnchorJudge.ReadingsOf(frame, row), options.Check);
            foreach (var answer in verdict.Alternatives.Prepend(verdict.Best))
            {
                if (answer.HighLeg == high) there += answer.Probability;
                else elsewhere += answer.Probability;
            }
        }

        return there > elsewhere ? new HighLegNames(high) : null;
    }

    /// <summary>Finds it where the hook-up's history is known.</summary>
    public static HighLegNames? Find(IntervalLog log, ServiceKind service, HookupTimeline timeline)
    {
        if (service != ServiceKind.HighLeg || timeline.Pieces.IsEmpty) return null;
        bool IsRight(int row) => timeline.At(new DateTime(log.Starts.Span[row])).Hookup.Leads.All(lead => lead.Value == Service.HomeOf(lead.Key));
        return Highest(log, IsRight) is { } high && high != Conductor.B ? new HighLegNames(high) : null;
    }

    /// <summary>The same log, B and the high leg's line exchanged.</summary>
    public IntervalLog Renamed(IntervalLog log) => WithColumns(log, [.. log.Columns.Select(column => column with { Place = Renamed(column.Place) })]);

    /// <summary>The same values under other columns.</summary>
    public static IntervalLog WithColumns(IntervalLog log, ImmutableArray<LogColumn> columns) =>
        new(columns, log.Starts.ToArray(), log.ArrayOf, log.IntervalSeconds, Math.Max(1, columns.Length)) { ClockSteps = log.ClockSteps };

    public GuardOptions Renamed(GuardOptions options) => options with
    {
        ProvedHookup = options.ProvedHookup is { } proved ? Renamed(proved) : null,
        Check = options.Check with { ToldRotation = Other(options.Check.ToldRotation) },
    };

    public GuardReport Renamed(GuardReport report) => report with
    {
        Spans = [.. report.Spans.Select(span => span with { Leads = Renamed(span.Leads), Clamps = Renamed(span.Clamps) })],
        Timeline = new HookupTimeline([.. report.Timeline.Pieces.Select(piece => piece with
        {
            Hookup = Renamed(piece.Hookup),
            Rotation = Other(piece.Rotation),
            Alternatives = [.. piece.Alternatives.Select(chance => chance with { Hookup = Renamed(chance.Hookup) })],
        })]),
        Usable = report.Usable.ToImmutableSortedDictionary(entry => Renamed(entry.Key), entry => entry.Value),
    };

    public ImmutableArray<Lead> Renamed(ImmutableArray<Lead> leads) => [.. leads.Select(Renamed).Order()];

    public ImmutableArray<Clamp> Renamed(ImmutableArray<Clamp> clamps) => [.. clamps.Select(Renamed).Order()];

    /// <summary>Values by line.</summary>
    public ImmutableArray<double> Renamed(ImmutableArray<double> lines) =>
        lines.Length < 3 ? lines : [.. Enumerable.Range(0, lines.Length).Select(line => lines[Renamed(line)])];

    private static Conductor? Highest(IntervalLog log, Func<int, bool> isAsked)
    {
        var middles = new double[3];
        var step = Math.Max(1, log.Count / 5000);
        int[] rows = [.. Enumerable.Range(0, log.Count).Where(row => row % step == 0 && isAsked(row))];
        for (var line = 0; line < 3; line++)
        {
            var index = log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1 + line);
            if (index < 0 || rows.Length == 0) return null;
            var values = log.ArrayOf(index);
            middles[line] = Robust.Median([.. rows.Select(row => values[row])]);
        }

        for (var line = 0; line < 3; line++)
        {
            double one = middles[line] / middles[(line + 1) % 3], other = middles[line] / middles[(line + 2) % 3];
            if (Math.Abs(one - Math.Sqrt(3)) < 0.12 && Math.Abs(other - Math.Sqrt(3)) < 0.12) return (Conductor)line;
        }

        return null;
    }

    private static Rotation Other(Rotation rotation) => rotation switch { Rotation.Abc => Rotation.Acb, Rotation.Acb => Rotation.Abc, _ => rotation };

    private int Renamed(int line) => line == 1 ? _place : line == _place ? 1 : line;

    private Lead Renamed(Lead lead) => lead == Lead.VN ? lead : (Lead)Renamed((int)lead);

    private Clamp Renamed(Clamp clamp) => clamp == Clamp.IN ? clamp : (Clamp)Renamed((int)clamp);

    private Conductor Renamed(Conductor on) => on > Conductor.C ? on : (Conductor)Renamed((int)on);

    private Hookup Renamed(Hookup hookup) => new(
        hookup.Leads.ToImmutableSortedDictionary(lead => Renamed(lead.Key), lead => lead.Value is { } on ? Renamed(on) : (Conductor?)null),
        hookup.Clamps.ToImmutableSortedDictionary(
            clamp => Renamed(clamp.Key), clamp => clamp.Value.On is { } on ? clamp.Value with { On = Renamed(on) } : clamp.Value));

    private LogPlace Renamed(LogPlace place) => place switch
    {
        >= LogPlace.Phase1 and <= LogPlace.Phase3 => LogPlace.Phase1 + Renamed(place - LogPlace.Phase1),
        >= LogPlace.Pair12 => Pair(Renamed(place - LogPlace.Pair12), Renamed((place - LogPlace.Pair12 + 1) % 3)),
        _ => place,
    };

    private Channel Renamed(Channel channel) => channel switch
    {
        <= Channel.V3 => Channel.V1 + Renamed(channel - Channel.V1),
        >= Channel.V12 and <= Channel.V31 => Channel.V12 + (Pair(Renamed(channel - Channel.V12), Renamed((channel - Channel.V12 + 1) % 3)) - LogPlace.Pair12),
        >= Channel.I1 and <= Channel.I3 => Channel.I1 + Renamed(channel - Channel.I1),
        _ => channel,
    };

    private static LogPlace Pair(int one, int other) => (Math.Min(one, other), Math.Max(one, other)) switch
    {
        (0, 1) => LogPlace.Pair12,
        (1, 2) => LogPlace.Pair23,
        _ => LogPlace.Pair31,
    };
}
