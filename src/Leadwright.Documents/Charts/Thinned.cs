using Leadwright.Core.Logs;
using Leadwright.Core.Studies;

namespace Leadwright.Documents.Charts;

/// <summary>Of more values than a chart can show, least and largest of each stretch stand for it.</summary>
internal static class Thinned
{
    /// <summary>The points of a series whose standing is wanted; no number in between.</summary>
    /// <param name="series">The series.</param>
    /// <param name="factor">What values are multiplied by.</param>
    /// <param name="isWanted">Which standings are shown.</param>
    /// <param name="most">About how many points.</param>
    public static IEnumerable<(double X, double Y)> Points(StudySeries series, double factor, Func<Standing, bool> isWanted, int most = 900)
    {
        var step = Math.Max(2 * series.Count / most, 1);
        var slack = series.IntervalTicks * 3 / 2;
        var middle = series.IntervalTicks / 2;
        for (int first = 0, end; first < series.Count; first = end)
        {
            var (low, high) = (-1, -1);
            if (first > 0 && series.Starts.Span[first] - series.Starts.Span[first - 1] > slack) yield return (series.Starts.Span[first], double.NaN);
            // A stretch ends where rows are missing.
            end = first + 1;
            while (end < Math.Min(first + step, series.Count) && series.Starts.Span[end] - series.Starts.Span[end - 1] <= slack) end++;
            for (var row = first; row < end; row++)
            {
                if (!series.IsKnown(row) || !isWanted(series.StandingOf(row))) continue;
                if (low < 0 || series.Values[row] < series.Values[low]) low = row;
                if (high < 0 || series.Values[row] > series.Values[high]) high = row;
            }

            if (low < 0)
            {
                yield return (series.Starts.Span[first], double.NaN);
                continue;
            }

            var (early, late) = (Math.Min(low, high), Math.Max(low, high));
            yield return (series.Starts.Span[early] + middle, factor * series.Values[early]);
            if (early != late) yield return (series.Starts.Span[late] + middle, factor * series.Values[late]);
        }
    }

    /// <summary>Stretches of one standing, in order; time without rows is lost.</summary>
    public static IEnumerable<(long From, long To, Standing Standing)> Stretches(StudySeries series)
    {
        if (series.Count == 0) yield break;
        var (from, standing, end) = (series.Starts.Span[0], series.StandingOf(0), series.Starts.Span[0]);
        for (var row = 0; row < series.Count; row++)
        {
            var start = series.Starts.Span[row];
            if (start - end > series.IntervalTicks / 2)
            {
                yield return (from, end, standing);
                yield return (end, start, Standing.Lost);
                (from, standing) = (start, series.StandingOf(row));
            }
            else if (series.StandingOf(row) != standing)
            {
                yield return (from, start, standing);
                (from, standing) = (start, series.StandingOf(row));
            }

            end = start + series.IntervalTicks;
        }

        yield return (from, end, standing);
    }
}
