using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies;

/// <summary>How high one voltage stood.</summary>
/// <param name="Place">Which.</param>
/// <param name="MeanVolts">Mean of the interval values, V.</param>
/// <param name="LeastVolts">Least interval value, V.</param>
/// <param name="LeastAt">Its time.</param>
/// <param name="MostVolts">Largest interval value, V.</param>
/// <param name="MostAt">Its time.</param>
/// <param name="Percentile5Volts">5th percentile, V.</param>
/// <param name="Percentile95Volts">95th percentile, V.</param>
public sealed record VoltageLevel(
    LogPlace Place, double MeanVolts, double LeastVolts, DateTime LeastAt, double MostVolts, DateTime MostAt, double Percentile5Volts, double Percentile95Volts)
{
    private static readonly ImmutableArray<LogPlace> s_places =
        [LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3, LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31, LogPlace.Neutral];

    /// <summary>Works it out for each voltage that the log has.</summary>
    /// <param name="data">The log.</param>
    public static ImmutableArray<VoltageLevel> Of(StudyData data)
    {
        ArgumentNullException.ThrowIfNull(data);
        var found = ImmutableArray.CreateBuilder<VoltageLevel>();
        foreach (var place in s_places)
        {
            if (data.Series(LogQuantity.Voltage, place) is not { } series) continue;
            var sound = series.SoundValues();
            if (sound.Length == 0) continue;
            var (least, most) = series.Extremes();
            found.Add(new VoltageLevel(
                place, sound.Average(), series.Values[least], series.StartOf(least), series.Values[most], series.StartOf(most),
                Percentile.OfUnsorted(sound, 5), Percentile.OfUnsorted(sound, 95)));
        }

        return found.ToImmutable();
    }
}
