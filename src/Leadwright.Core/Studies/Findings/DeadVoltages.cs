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
        foreach (var place in StudyData.Phases)
        {
            if (data.Series(LogQuantity.Voltage, place) is not { } series) continue;
            var dead = Rows(data, place);
            var first = Array.IndexOf(dead, true);
            if (first < 0) continue;
            var known = Enumerable.Range(0, series.Count).Count(series.IsSound);
            yield return new("lone_dead_voltage_percent", 100.0 * dead.Count(isDead => isDead) / known, "%", series.StartOf(first), $"V{((int)place).ToString(CultureInfo.InvariantCulture)}");
        }
    }

    /// <summary>In which rows a phase stood alone at next to nothing; none where the nominal voltage is not known or the place is no phase.</summary>
    public static bool[] Rows(StudyData data, LogPlace place)
    {
        if (data.Nominal is not { } nominal || !StudyData.Phases.Contains(place) || data.Series(LogQuantity.Voltage, place) is not { } series) return [];
        var others = StudyData.Phases.Where(other => other != place).Select(other => (Place: other, Series: data.Series(LogQuantity.Voltage, other))).Where(pair => pair.Series is not null).ToList();
        var rows = new bool[series.Count];
        for (var row = 0; row < rows.Length; row++)
        {
            rows[row] = series.IsSound(row) && series.Values[row] < Dead * VoltsOf(place)
                && others.Exists(other => row < other.Series!.Count && other.Series.IsSound(row) && other.Series.Values[row] > Alive * VoltsOf(other.Place));
        }

        return rows;

        double VoltsOf(LogPlace phase) => nominal.LineToNeutralVolts * (data.Service == Circuits.ServiceKind.HighLeg && phase == LogPlace.Phase2 ? Math.Sqrt(3) : 1);
    }
}
