using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Reports.Guarding;
using static System.FormattableString;

namespace Leadwright.Reports.Mending;

/// <summary>Writes the answer of a mending for people.</summary>
public static class MendText
{
    /// <summary>The answer as lines of text.</summary>
    /// <param name="document">The answer.</param>
    public static string Of(MendDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var report = document.Report;
        var text = new StringBuilder();
        Line($"{document.File}: {Time(report.From)} to {Time(report.To)}");
        var places = PlacesOf(report);
        if (report.Energy is { } energy)
        {
            Line($"  energy {Kilo(energy.MendedWattHours)} kWh, between {Kilo(energy.LowWattHours)} and {Kilo(energy.HighWattHours)} kWh with probability {energy.Coverage:0.##}");
            if (!document.IsAccuracyStated) text.AppendLine("  The accuracy of recorder and clamps was not stated and is not in it (--accuracy).");
            if (report.IsUnjudged) Line($"  {MendWording.TakenForGranted}");
            Line($"  recorded as it stands: {Counted(energy.RecordedWattHours)} kWh");
        }

        if (report.Corrections.IsEmpty) Line($"  {MendWording.NothingDone(report)}");
        var told = new HashSet<string>(StringComparer.Ordinal);
        var energies = CorrectionEnergies.Of(report);
        var causes = document.Causes();
        foreach (var entry in energies.Corrections)
        {
            var correction = entry;
            List<Correction> alike = entry.Kind == CorrectionKind.OverRange ? [.. energies.Corrections.Where(other => other.Kind == entry.Kind && other.Clamps.SequenceEqual(entry.Clamps))] : [];
            if (alike.Count >= Repeats.Least)
            {
                if (!told.Add(string.Join(',', entry.Clamps))) continue;
                // What lies beyond one clamp's range is too much or too little in all stretches alike.
                correction = entry with { WattHours = alike.Sum(other => other.WattHours), UncertaintyWattHours = alike.Sum(other => other.UncertaintyWattHours) };
            }

            var whole = correction.From <= report.From && correction.To >= report.To;
            var when = alike.Count >= Repeats.Least ? Repeats.When([.. alike.Select(other => (other.From, other.To))], Time) : whole ? "all the time" : Stretch(correction.From, correction.To);
            Line($"  {when}  {MendWords.Of(correction.Kind)}, {MendWords.Of(correction.Basis)}");
            Line($"      {MendWording.Of(correction)}");
            if (MendWording.Follows(correction, causes, span => Between(span.From, span.To)) is { Length: > 0 } follows) Line($"      {follows}");
        }

        if (MendWording.Together(energies) is { Length: > 0 } together) Line($"  {together}");

        if (!report.Unmendable.IsEmpty) text.AppendLine("  What can't be mended:");
        foreach (var alike in report.Unmendable.GroupBy(MendWording.Of))
        {
            if (alike.Count() >= Repeats.Least) Line($"      {Repeats.When([.. alike.Select(entry => (entry.From, entry.To))], Time)}  {alike.Key}");
            else foreach (var entry in alike) Line($"      {Stretch(entry.From, entry.To)}  {alike.Key}");
        }

        Line($"  {"",-34}{"before",12}{"after",12}");
        EnergyRow("energy, kWh", report.Before.WattHours, report.After.WattHours);
        // Two powers may be those of two legs, or of the two elements of a two-clamp service.
        var name = report.After.PhaseWattHours.Length == 3 ? "phase" : "element";
        var isSplit = report.After.PhaseWattHours.Length > 1;
        for (var phase = 0; isSplit && phase < Math.Min(report.Before.PhaseWattHours.Length, report.After.PhaseWattHours.Length); phase++)
            EnergyRow(Invariant($"  {name} {phase + 1}, kWh"), report.Before.PhaseWattHours[phase], report.After.PhaseWattHours[phase]);
        Row(Invariant($"peak over {report.After.PeakMinutes:0.##} min, kW{(report.After.PeakIsAtLeast ? " (at least)" : "")}"), report.Before.PeakWatts / 1000, report.After.PeakWatts / 1000, "0.00");
        Phases(", kW", figures => figures.PhasePeakWatts, 1000, "0.00");
        // Not the power factor by energy of the study, which is of the time with known vars.
        Row("energy over apparent energy", report.Before.PowerFactor, report.After.PowerFactor, "0.000");
        Phases("", figures => figures.PhasePowerFactors, 1, "0.000");
        Row("current unbalance, %", report.Before.CurrentUnbalancePercent, report.After.CurrentUnbalancePercent, "0.0");
        Row("voltage unbalance, %", report.Before.VoltageUnbalancePercent, report.After.VoltageUnbalancePercent, "0.00");
        if (document.Table is { } table) Line($"  The mended table is in {table}; the recording was not touched.");
        foreach (var note in report.Unjudged) Line($"  {GuardWords.Of(note)}");
        foreach (var note in document.Notes) Line($"  {note}");
        return text.ToString();

        void Line(FormattableString line) => text.AppendLine(line.ToString(CultureInfo.InvariantCulture));

        string Kilo(double wattHours) => places.Text(wattHours / 1000);

        string Counted(double wattHours) => places.OfCounted.Text(wattHours / 1000);

        string Stretch(DateTime from, DateTime to)
        {
            var shown = causes.EventOf(from, to);
            return $"{Time(shown.From)} to {Time(shown.To)}";
        }

        string Between(DateTime from, DateTime to) => from <= report.From && to >= report.To ? "all the time" : to >= report.To ? $"from {Time(from)} on" : $"{Time(from)} to {Time(to)}";

        void EnergyRow(string name, double before, double after) => Line($"  {name,-34}{Counted(before),12}{Kilo(after),12}");

        void Phases(string unit, Func<LoadFigures, IReadOnlyList<double>> of, double by, string format)
        {
            var (before, after) = (of(report.Before), of(report.After));
            if (!before.Concat(after).Any(double.IsFinite)) return;
            for (var phase = 0; isSplit && phase < Math.Min(before.Count, after.Count); phase++) Row($"  {name} {phase + 1}{unit}", before[phase] / by, after[phase] / by, format);
        }

        void Row(string name, double before, double after, string format) => Line($"  {name,-34}{Number(before, format),12}{Number(after, format),12}");
    }

    // One place for every energy of the answer, so that they can be held against each other.
    private static EnergyPlaces PlacesOf(MendReport report) => report.Energy is { } energy
        ? EnergyPlaces.Of(energy.MendedWattHours / 1000, (energy.HighWattHours - energy.LowWattHours) / 2000) : EnergyPlaces.Of(report.After.WattHours / 1000);

    private static string Number(double value, string format) => double.IsFinite(value) ? value.ToString(format, CultureInfo.InvariantCulture) : "–";

    private static string Time(DateTime time) => RecordTime.Text(time, "yyyy-MM-dd HH:mm:ss.FFF");
}
