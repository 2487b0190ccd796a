using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Findings;

/// <summary>A phase whose power flows back while the others draw: a record that was studied before anybody proved which way its clamps face.</summary>
/// <remarks>
/// Asked only of services with a neutral, where a phase's power is that of its own loads; two of three single-phase generators would show the same. Power under a
/// twentieth of a phase's own usual most (its 95th percentile) has no sure sign. Common practice, no source, for the borders.
/// </remarks>
internal static class LoneReversePower
{
    private const double LeastShare = 0.05;

    /// <summary>For each phase: in which share of the intervals in which all phases have a sure sign it alone flowed back, percent, and since when.</summary>
    public static IEnumerable<StudyMetric> Of(StudyData data)
    {
        if (data.Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp or ServiceKind.Single) yield break;
        var phases = StudyData.Phases.Select(place => (Place: place, Series: data.Series(LogQuantity.ActivePower, place)))
            .Where(pair => pair.Series is not null).Select(pair => (pair.Place, Series: pair.Series!, Least: LeastShare * UsualMost(pair.Series!))).ToList();
        if (phases.Count < 2) yield break;
        var (known, counts, firsts) = (0, new int[phases.Count], new int[phases.Count]);
        for (var row = 0; row < phases[0].Series.Count; row++)
        {
            var (back, lone, isSure) = (0, -1, true);
            for (var phase = 0; phase < phases.Count && isSure; phase++)
            {
                var (_, series, least) = phases[phase];
                isSure = row < series.Count && series.IsSound(row) && least > 0 && Math.Abs(series.Values[row]) >= least;
                if (isSure && series.Values[row] < 0) (back, lone) = (back + 1, phase);
            }

            if (!isSure) continue;
            known++;
            if (back == 1 && counts[lone]++ == 0) firsts[lone] = row;
        }

        for (var phase = 0; phase < phases.Count; phase++)
        {
            if (counts[phase] == 0) continue;
            yield return new(
                "lone_reverse_power_percent", 100.0 * counts[phase] / known, "%", phases[phase].Series.StartOf(firsts[phase]), $"I{((int)phases[phase].Place).ToString(CultureInfo.InvariantCulture)}");
        }
    }

    private static double UsualMost(StudySeries series)
    {
        double[] sizes = [.. series.SoundValues().Select(Math.Abs)];
        return sizes.Length == 0 ? 0 : Percentile.OfUnsorted(sizes, 95);
    }
}
