using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>What a clamp on the neutral should show by the lines' currents, whose sum it carries.</summary>
/// <remarks>
/// Each line's current is a phasor by its watts and vars; without vars it is taken to lag, without watts to stand with its voltage. Both orders of the lines are tried, and the one kept that the clamp agrees with. What
/// harmonics of the third order add, and whatever else the sum does not know, is learned as a ratio and a spread. A sum that the clamp does not follow says nothing, but that lines alike leave nothing.
/// </remarks>
internal sealed class NeutralSum
{
    /// <summary>Beyond this spread of the logarithm the clamp does not follow the sum.</summary>
    private const double MostSpread = 0.25;
    private const int LeastRows = 60;

    /// <summary>Below this share of the largest line the lines' angles, known to some degrees, may leave the neutral nothing.</summary>
    private const double ShareOfLines = 0.12;
    private const double LargePart = 0.3;
    private const int LeastTold = 12;
    private readonly double[] _sums;
    private readonly double[] _lines;
    private readonly bool _isFollowed;
    private readonly double _still;
    private readonly double _share;
    private readonly double _ratio;

    private NeutralSum(double[] sums, double[] lines, double still, double share, double ratio) => (_sums, _lines, _still, _share, _isFollowed, _ratio) = (sums, lines, still, share, share < MostSpread, ratio);

    /// <summary>What the clamp should show in a row, amperes; NaN where a line's current is not known.</summary>
    public double At(int row) => _sums[row];

    /// <summary>What the clamp showed over the lines' plain sum in some rows, the median of those in which that is no small part of the largest line; not a number where too few tell.</summary>
    public double ShownTo(GuardFrame frame, List<RowPiece> pieces)
    {
        var shown = new List<double>();
        foreach (var piece in pieces)
        {
            for (var row = piece.From; row <= piece.To; row++)
            {
                if (_sums[row] > LargePart * _lines[row] && frame.Amperes[3]![row] > 0) shown.Add(frame.Amperes[3]![row] / (_sums[row] / _ratio));
            }
        }

        return shown.Count < LeastTold ? double.NaN : Robust.Median([.. shown]);
    }

    /// <summary>What the clamp should show over some rows, the median, with its spread; NaN where it does not follow.</summary>
    public (double Amperes, double Spread) Over(int from, int to)
    {
        var middle = _isFollowed ? Robust.Median(_sums.AsSpan(from, to - from + 1)) : double.NaN;
        return (middle, SpreadOf(middle));
    }

    /// <summary>Log-odds that the clamp was on nothing in some rows rather than on a neutral that carried this little.</summary>
    /// <remarks>Rows close in time err alike: the sum of n is weighed by 1/√n. Loads that happen to be alike leave the neutral nothing, and no clamp to be missed.</remarks>
    public double SayOff(double[] neutral, int from, int to, double floor)
    {
        if (Robust.Median(_sums.AsSpan(from, to - from + 1)) < ShareOfLines * Robust.Median(_lines.AsSpan(from, to - from + 1))) return double.NegativeInfinity;
        if (!_isFollowed) return 0;
        double odds = 0;
        var rows = 0;
        for (var row = from; row <= to; row++)
        {
            if (double.IsNaN(_sums[row]) || double.IsNaN(neutral[row])) continue;
            odds += NeutralLeadChain.Say(neutral[row], floor) - NeutralLeadChain.Say(neutral[row] - _sums[row], SpreadOf(_sums[row]));
            rows++;
        }

        return rows == 0 ? 0 : odds / Math.Sqrt(rows);
    }

    private double SpreadOf(double amperes) => Math.Sqrt((_still * _still) + (_share * _share * amperes * amperes));

    /// <summary>Learns the sum; null where there is no such clamp, or a line's is missing.</summary>
    public static NeutralSum? Learn(GuardFrame frame)
    {
        if (frame.IsPairs || frame.Service.Kind is not (ServiceKind.Wye or ServiceKind.Split) || frame.Amperes[3] is not { } neutral || frame.Amperes.Take(frame.Lines).Any(column => column is null)) return null;
        var one = Of(frame, neutral, 1);
        if (frame.Lines == 2) return one;
        var other = Of(frame, neutral, -1);
        return one._share <= other._share ? one : other;
    }

    private static NeutralSum Of(GuardFrame frame, double[] neutral, int order)
    {
        double[] sums = new double[frame.Count], lines = new double[frame.Count];
        for (var row = 0; row < sums.Length; row++)
        {
            var sum = new Phasor(0, 0);
            for (var line = 0; line < frame.Lines; line++)
            {
                var (inPhase, across) = Current(frame, line, row);
                lines[row] = Math.Max(lines[row], frame.Amperes[line]![row]);
                sum += new Phasor(inPhase, -order * across) * frame.Ideal[line];
            }

            sums[row] = sum.Magnitude;
        }

        // Where little flows most of what is shown is the clamp's own noise.
        var least = Robust.Median(sums);
        double[] ratios = [.. Enumerable.Range(0, sums.Length).Where(row => sums[row] > least && neutral[row] > 0).Select(row => Math.Log(neutral[row] / sums[row]))];
        var share = ratios.Length < LeastRows ? double.PositiveInfinity : Robust.Deviation(ratios);
        if (!(share < MostSpread)) return new NeutralSum(sums, lines, 0, double.PositiveInfinity, 1);
        var ratio = Math.Exp(Robust.Median(ratios));
        for (var row = 0; row < sums.Length; row++) (sums[row], lines[row]) = (sums[row] * ratio, lines[row] * ratio);
        double[] small = [.. Enumerable.Range(0, sums.Length).Where(row => sums[row] <= least * ratio).Select(row => neutral[row] - sums[row])];
        var still = small.Length < LeastRows ? 0 : Robust.Deviation(small);
        return new NeutralSum(sums, lines, Math.Max(double.IsNaN(still) ? 0 : still, Robust.Step(neutral)), Math.Max(share, 0.005), ratio);
    }

    private static (double InPhase, double Across) Current(GuardFrame frame, int line, int row)
    {
        if (frame.TryMeanCurrent(line, row, out var inPhase, out var across)) return (inPhase, across);
        var amperes = frame.Amperes[line]![row];
        if (frame.Watts[line] is not { } watts || frame.Volts[line] is not { } volts || !(volts[row] > 0.5) || !(amperes > 0)) return (amperes, 0);
        var factor = Math.Clamp(watts[row] / (volts[row] * frame.UnitVolts * amperes), -1, 1);
        var lead = frame.Vars[line] is { } vars && vars[row] < 0 ? -1 : 1;
        return (amperes * factor, lead * amperes * Math.Sqrt(1 - (factor * factor)));
    }
}
