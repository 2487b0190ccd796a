using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Documents.Charts;
using Leadwright.Documents.Model;
using Leadwright.Reports.Mending;

namespace Leadwright.Documents.Reports;

/// <summary>What was mended and with what uncertainty, and what was lost.</summary>
internal static class MendPart
{
    /// <summary>What was counted is known: whole kilowatt-hours, however wide the interval of the true energy.</summary>
    private const double CountedTo = 1e4;

    private const int MostRows = 14;

    public static IEnumerable<Block> Blocks(ReportContext context)
    {
        var words = context.Words;
        if (context.Subject.Mend is not { } mend)
        {
            yield return new ParagraphBlock(words.Of(context.Subject.Recorded.Standings.IsEmpty ? "mend.none" : "mend.before"));
            yield break;
        }

        var causes = new CorrectionCauses(context.Subject.Guard?.Spans ?? [], TimeSpan.FromSeconds(mend.Log.IntervalSeconds));

        // Where leads and clamps could not be judged, "nothing needed mending" would claim too much.
        if (mend.Corrections.IsEmpty && context.Subject.Guard is not { Usable.IsEmpty: false })
        {
            yield return new ParagraphBlock(words.Of("mend.unjudged"));
            yield break;
        }

        if (mend.Corrections.IsEmpty)
        {
            yield return new ParagraphBlock(words.Of("mend.nothing"), ParagraphStyle.Lead);
        }
        else
        {
            var energies = CorrectionEnergies.Of(mend);
            var modelled = mend.Corrections.Count(correction => correction.Basis == CorrectionBasis.Modelled);
            yield return new ParagraphBlock(words.Of(mend.Corrections.Length == 1 ? "mend.count.one" : "mend.count", ("count", $"{mend.Corrections.Length}"), ("exact", $"{mend.Corrections.Length - modelled}"), ("modelled", $"{modelled}")), ParagraphStyle.Lead);
            yield return new ParagraphBlock(words.Of("mend.layer"));
            if (mend.Energy is { } energy) yield return Energy(context, energy);
            if (context.Subject.Study.Data.ActivePower(LogPlace.Whole) is { } power && context.Subject.Recorded.ActivePower(LogPlace.Whole) is { } recorded)
            {
                yield return new FigureBlock(PowerChart.Draw(power, recorded, mend.Corrections, null, words.Of("mend.chart"), words), words.Of("mend.figure"));
            }

            yield return ReportContext.Table(
                "Corrections", words.Of("mend.caption"),
                [context.Text("col.from"), context.Text("col.to"), context.Text("col.done"), context.Text("col.standing"), context.Number("col.change", "kWh"), context.Number("col.give-or-take", "kWh")],
                Shown(energies.Corrections).Select(correction => TableRow.Of(
                    ReportContext.Cell(Event(correction.From, correction.To).From), ReportContext.Cell(Event(correction.From, correction.To).To), Done(correction), context.Standing(correction.Basis == CorrectionBasis.Exact ? Standing.Mended : Standing.Modelled),
                    new TableCell(context.Energy(correction.WattHours, correction.UncertaintyWattHours)) { Number = correction.WattHours / 1000 },
                    new TableCell(double.IsFinite(correction.WattHours) ? words.Digits(correction.UncertaintyWattHours / 1000, 2) : "–") { Number = double.IsFinite(correction.WattHours) ? correction.UncertaintyWattHours / 1000 : double.NaN })),
                words.Of("mend.note") + (MendWording.Together(energies) is { Length: > 0 } together ? " " + together : "") + (mend.Corrections.Length > MostRows ? " " + words.Of("mend.more", ("count", $"{mend.Corrections.Length - MostRows}")) : ""));
            yield return Figures(context, mend);
        }

        yield return new HeadingBlock(words.Of("mend.lost"));
        if (mend.Unmendable.IsEmpty) yield return new ParagraphBlock(words.Of("mend.lost.nothing"));
        else
        {
            yield return ReportContext.Table(
                "Lost", "", [context.Text("col.lost"), context.Number("col.stretches"), context.Number("col.length"), context.Text("col.first"), context.Text("col.last")],
                mend.Unmendable.GroupBy(MendWording.Of).Select(group => TableRow.Of(
                    group.Key, new TableCell($"{group.Count()}") { Number = group.Count() }, words.Length(group.Sum(entry => (entry.To - entry.From).TotalSeconds)),
                    ReportContext.Cell(group.Min(entry => Event(entry.From, entry.To).From)), ReportContext.Cell(group.Max(entry => Event(entry.From, entry.To).To)))));
        }

        // An event bears one time in the whole report: that of the guard.
        (DateTime From, DateTime To) Event(DateTime from, DateTime to) => causes.EventOf(from, to);
    }

    // Where there are too many for paper, those that change the energy most, in the order of time.
    private static IEnumerable<Correction> Shown(ImmutableArray<Correction> corrections) => corrections.Length <= MostRows ? corrections
        : corrections.OrderByDescending(correction => double.IsFinite(correction.WattHours) ? Math.Abs(correction.WattHours) : double.PositiveInfinity).Take(MostRows)
            .OrderBy(correction => correction.From).ThenBy(correction => correction.To);

    // The figures stand in columns of their own.
    private static string Done(Correction correction) => MendWording.Of(correction with { WattHours = double.NaN });

    private static KeyFiguresBlock Energy(ReportContext context, MendedEnergy energy)
    {
        var words = context.Words;
        var spread = (energy.HighWattHours - energy.LowWattHours) / 2;
        return new KeyFiguresBlock(
        [
            new KeyFigure(words.Of("mend.recorded"), context.Energy(energy.RecordedWattHours, Math.Min(spread, CountedTo)), "kWh", words.Of("mend.recorded.note")),
            new KeyFigure(words.Of("mend.mended"), context.Energy(energy.MendedWattHours, spread), "kWh", words.Of("mend.mended.note")),
            new KeyFigure(
                words.Of("mend.interval"), $"{context.Energy(energy.LowWattHours, spread)} – {context.Energy(energy.HighWattHours, spread)}", "kWh",
                words.Of(context.Subject.AccuracyPercent > 0 ? "mend.interval.accuracy" : "mend.interval.note", ("percent", words.Number(100 * energy.Coverage, "0")), ("accuracy", words.Number(context.Subject.AccuracyPercent, "0.##")))),
        ]);
    }

    private static TableBlock Figures(ReportContext context, MendReport mend)
    {
        var words = context.Words;
        var (before, after) = (mend.Before, mend.After);
        // To the place of the figures above the table: they are held against each other.
        var spread = mend.Energy is { } energy ? (energy.HighWattHours - energy.LowWattHours) / 2 : double.NaN;
        var rows = new List<TableRow> { TableRow.Of(words.Of("mend.row.energy"), "kWh", Energy(before.WattHours), Energy(after.WattHours)) };
        for (var phase = 0; phase < Math.Min(before.PhaseWattHours.Length, after.PhaseWattHours.Length); phase++)
            rows.Add(TableRow.Of(words.Of("mend.row.phase", ("number", $"{phase + 1}")), "kWh", Energy(before.PhaseWattHours[phase]), Energy(after.PhaseWattHours[phase])));
        rows.Add(Row(after.PeakIsAtLeast ? "mend.row.peak-at-least" : "mend.row.peak", "kW", before.PeakWatts / 1000, after.PeakWatts / 1000, 4, ("minutes", words.Number(after.PeakMinutes, "0.##"))));
        Phases("mend.row.phase-peak", "kW", before.PhasePeakWatts, after.PhasePeakWatts, value => context.Cell(value / 1000, 4));
        rows.Add(TableRow.Of(words.Of("mend.row.factor"), "", context.Fixed(before.PowerFactor, "0.000"), context.Fixed(after.PowerFactor, "0.000")));
        Phases("mend.row.phase-factor", "", before.PhasePowerFactors, after.PhasePowerFactors, value => context.Fixed(value, "0.000"));
        rows.Add(TableRow.Of(words.Of("mend.row.current-unbalance"), "%", context.Fixed(before.CurrentUnbalancePercent, "0.0"), context.Fixed(after.CurrentUnbalancePercent, "0.0")));
        rows.Add(TableRow.Of(words.Of("mend.row.voltage-unbalance"), "%", context.Fixed(before.VoltageUnbalancePercent, "0.00"), context.Fixed(after.VoltageUnbalancePercent, "0.00")));
        return ReportContext.Table("Before and after", words.Of("mend.figures"), [context.Text("col.figure"), context.Text("col.unit"), context.Number("col.before"), context.Number("col.after")], rows);

        TableCell Energy(double wattHours) => new(context.Energy(wattHours, spread)) { Number = wattHours / 1000 };

        void Phases(string key, string unit, IReadOnlyList<double> first, IReadOnlyList<double> second, Func<double, TableCell> cell)
        {
            if (!first.Concat(second).Any(double.IsFinite)) return;
            for (var phase = 0; phase < Math.Min(first.Count, second.Count); phase++) rows.Add(TableRow.Of(words.Of(key, ("number", $"{phase + 1}")), unit, cell(first[phase]), cell(second[phase])));
        }

        TableRow Row(string key, string unit, double first, double second, int digits, params ReadOnlySpan<(string, string)> values) =>
            TableRow.Of(words.Of(key, values), unit, context.Cell(first, digits), context.Cell(second, digits));
    }
}
