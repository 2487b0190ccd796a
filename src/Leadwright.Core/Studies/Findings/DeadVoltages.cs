using System.Globalization;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Findings;

/// <summary>Voltages that read next to nothing while another stands: a record that was studied before anybody looked after its leads.</summary>
/// <remarks>A lead that let go or a blown input fuse reads so, and so does a line lost upstream; which it was is for the guard to say. Common practice, no source, for the borders.</remarks>
internal static class DeadVoltages
{
    private const double Dead = 0.3;
    private const double Alive = 0.7;

    /// <summary>For each phase that stood alone at next to nothing: for which share of its sound intervals, percent, and since when.</summary>
    public static IEnumerable<StudyMetric> Of(StudyData data)
    {
        if (data.Nominal is not { } nominal) yield break;
        var all = StudyData.Phases.Select(place => (Place: place, Series: data.Series(LogQuantity.Voltage, place))).Where(pair => pair.Series is not null)
            .Select(pair => (pair.Place, Series: pair.Series!)).ToList();
        foreach (var (place, series) in all)
        {
            var (known, dead, first) = (0, 0, -1);
            for (var row = 0; row < series.Count; row++)
            {
                if (!series.IsSound(row)) continue;
                known++;
                if (series.Values[row] >= Dead * VoltsOf(place)) continue;
                if (!all.Any(other => other.Place != place && row < other.Series.Count && other.Series.IsSound(row) && other.Series.Values[row] > Alive * VoltsOf(other.Place))) continue;
                dead++;
                if (first < 0) first = row;
            }

            if (dead > 0) yield return new("lone_dead_voltage_percent", 100.0 * dead / known, "%", series.StartOf(first), $"V{((int)place).ToString(CultureInfo.InvariantCulture)}");
        }

        double VoltsOf(LogPlace place) => nominal.LineToNeutralVolts * (data.Service == Circuits.ServiceKind.HighLeg && place == LogPlace.Phase2 ? Math.Sqrt(3) : 1);
    }
}
