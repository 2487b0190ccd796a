using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Finds stretches in which two inputs of a kind show the same, to the step in which they are written, though both move: they are on one conductor.</summary>
/// <remarks>
/// Rows in which the one moved by several written steps are asked whether the other stands where it does. How often two that are on conductors of their own do so by chance, and how
/// often they go on doing so from one row to the next, as two steady loads may, the other rows of the recording say, or, where it is all of it, the other pairs. The stretch whose rows speak loudest is taken (maximal sum of log-odds; J. Bentley,
/// Programming Pearls, 1986, column 7, from memory). It needs no powers and no angles.
/// </remarks>
internal static class SameReadings
{
    private const double Alike = 0.97;
    private const double FirstGuess = 0.1;
    private const double LeastOdds = 14;
    private const double MostOdds = 40;
    private const int LeastRows = 6;
    private const int LeastOthers = 20;
    private const int StepsMoved = 3;
    // Coarser than this, two conductors' readings stand together by their digits; amperes that stand alike for most of a recording may be a little coarser.
    private const double CoarsestStep = 0.004;
    private const double CoarsestOfAmperes = 0.01;
    private const double NoiseOfVolts = 1.5e-4;
    private const double NoiseOfAmperes = 1e-3;
    private const double ShareOfOthers = 0.15;
    private const double MostGain = 0.012;
    private const double LeastOfOwn = 0.7;

    /// <summary>Two leads, or two clamps of lines, that are one.</summary>
    public static List<AlikeStretch> OfLines(GuardFrame frame, VoltageHistory voltages)
    {
        var found = new List<AlikeStretch>();
        if (!frame.IsPairs && frame.Service.Kind is ServiceKind.Wye or ServiceKind.Network) OfKind(frame, voltages, frame.Volts, true, found);
        OfKind(frame, voltages, frame.Amperes, false, found);
        return found;
    }

    /// <summary>Stretches in which both legs of a split service stand alike though their currents go apart and both powers go to the load: the neutral lead is in the air.</summary>
    public static List<(int From, int To, double Odds)> OfLegs(GuardFrame frame, VoltageHistory voltages)
    {
        if (frame.Service.Kind != ServiceKind.Split || frame.IsPairs || frame.Volts[0] is not { } one || frame.Volts[1] is not { } other || frame.Amperes[0] is not { } first || frame.Amperes[1] is not { } second) return [];
        if (frame.Watts[0] is not { } watts || frame.Watts[1] is not { } beside) return [];
        var pair = new Pair(one, other, voltages, NoiseOfVolts);
        if (!pair.Tells || pair.Best() is not { } stretch) return [];
        int against = 0, apart = 0;
        for (var row = stretch.From; row <= stretch.To; row++)
        {
            against += watts[row] < 0 != beside[row] < 0 ? 1 : 0;
            apart += Math.Abs(first[row] - second[row]) > 0.25 * Math.Max(first[row], second[row]) ? 1 : 0;
        }

        var rows = stretch.To - stretch.From + 1;
        return 10 * against > rows || 3 * apart < rows ? [] : [stretch];
    }

    /// <summary>Clamps that read what the neutral's clamp reads, while other lines carry something.</summary>
    public static List<AlikeStretch> OfNeutral(GuardFrame frame, VoltageHistory voltages)
    {
        var found = new List<AlikeStretch>();
        if (frame.Amperes[3] is not { } neutral || frame.Lines < 2) return found;
        var pairs = frame.Amperes.Take(frame.Lines).Select(amperes => amperes is null ? null : new Pair(amperes, neutral, voltages, NoiseOfAmperes, true)).ToList();
        for (var line = 0; line < frame.Lines; line++)
        {
            if (frame.Amperes[line] is not { } amperes || pairs[line] is not { Tells: true } pair) continue;
            if (pair.Best(pairs.Where(other => other is not null && other != pair).Select(other => other!.Goes(1, 0)).DefaultIfEmpty(double.NaN).Max()) is not { } stretch) continue;
            if (pair.IsCoarse && 2 * (stretch.To - stretch.From) < frame.Count) continue;
            // From first to last it may as well be the neutral's clamp that is on the line: there the line's power is its own.
            if (pair.IsAllAlong(stretch.From, stretch.To) && StandsWithItsVoltage(frame, line, stretch.From, stretch.To)) continue;
            double own = 0, others = 0;
            for (var row = stretch.From; row <= stretch.To; row++)
            {
                own += amperes[row];
                for (var beside = 0; beside < frame.Lines; beside++) others += beside != line && frame.Amperes[beside] is { } column ? column[row] : 0;
            }

            // A line that alone carries something is all that the neutral brings back.
            if (others > ShareOfOthers * own) found.Add(new AlikeStretch(stretch.From, stretch.To, line, 3, false, stretch.Odds));
        }

        return found;
    }

    /// <summary>True where a line's watts are most of its volt-amperes, as a load's are; a neutral's current stands anywhere to a line's voltage. True as well where nothing tells.</summary>
    private static bool StandsWithItsVoltage(GuardFrame frame, int line, int from, int to)
    {
        if (frame.Watts[line] is not { } watts || frame.Amperes[line] is not { } amperes || frame.Volts[line] is not { } volts) return true;
        double[] factors = [.. Enumerable.Range(from, to - from + 1).Select(row => watts[row] / (volts[row] * frame.UnitVolts * amperes[row])).Where(double.IsFinite)];
        return factors.Length < LeastRows || Robust.Median(factors) > LeastOfOwn;
    }

    private static void OfKind(GuardFrame frame, VoltageHistory voltages, double[]?[] columns, bool isLead, List<AlikeStretch> found)
    {
        var pairs = new List<(int One, int Other, Pair Pair)>();
        for (var one = 0; one < frame.Lines; one++)
        {
            for (var other = one + 1; other < frame.Lines; other++)
            {
                if (columns[one] is { } first && columns[other] is { } second) pairs.Add((one, other, new Pair(first, second, voltages, isLead ? NoiseOfVolts : NoiseOfAmperes, !isLead && frame is { Lines: > 2, IsTwoElement: false })));
            }
        }

        foreach (var (one, other, pair) in pairs)
        {
            if (!pair.Tells || pair.Best(pairs.Where(entry => entry.Pair != pair).Select(entry => entry.Pair.Goes(1, 0)).DefaultIfEmpty(double.NaN).Max()) is not { } stretch) continue;
            if (pair.IsCoarse && 2 * (stretch.To - stretch.From) < frame.Count) continue;
            // Where a third is like them as well, one load draws on all lines.
            if (pairs.Exists(entry => entry.Pair != pair && entry.Pair.ShareWithin(stretch.From, stretch.To) > 0.3)) continue;
            var (moved, on) = EdgeMoves.More(columns[one]!, columns[other]!, stretch.From, stretch.To) >= 0 ? (one, other) : (other, one);
            found.Add(new AlikeStretch(stretch.From, stretch.To, moved, on, isLead, stretch.Odds));
        }
    }

    /// <summary>Two columns of a kind.</summary>
    private sealed class Pair
    {
        private readonly bool[] _isAsked;
        private readonly bool[] _isSame;
        private readonly int _rows;
        private readonly double[] _one;
        private readonly double[] _other;
        private readonly double _within;
        private readonly bool _haveGains;

        public Pair(double[] one, double[] other, VoltageHistory voltages, double noise, bool haveGains = false)
        {
            (_one, _other, _rows, _haveGains) = (one, other, one.Length, haveGains);
            (_isAsked, _isSame) = (new bool[_rows], new bool[_rows]);
            var step = Math.Max(Robust.Step(one), Robust.Step(other));
            var size = Robust.Median([.. one.Where(value => value > 0)]);
            IsCoarse = step >= CoarsestStep * size;
            if (!(step < (noise > NoiseOfVolts ? CoarsestOfAmperes : CoarsestStep) * size)) return;
            // Two inputs part by their own noise as well.
            _within = Math.Max(1.5 * step, noise * size);
            for (var row = 1; row < _rows; row++)
            {
                var isSound = voltages.At(row).Kind is VoltageStateKind.Sound or VoltageStateKind.Leads;
                _isAsked[row] = isSound && one[row] > 20 * step && other[row] > 20 * step && Math.Max(Math.Abs(one[row] - one[row - 1]), Math.Abs(other[row] - other[row - 1])) >= StepsMoved * step;
                Asked += _isAsked[row] ? 1 : 0;
            }

            Compare(1, _rows - 1);
        }

        /// <summary>Marks the rows in which both read the same. Two clamps on one conductor stand in the ratio of their gains, which are a percent's, as some rows show it.</summary>
        private void Compare(int from, int to)
        {
            double[] near = _haveGains ? [.. Enumerable.Range(from, to - from + 1).Select(row => _one[row] / _other[row]).Where(ratio => Math.Abs(ratio - 1) < MostGain)] : [];
            var gain = near.Length < LeastRows ? 1 : Robust.Median(near);
            Same = 0;
            for (var row = 1; row < _rows; row++)
            {
                _isSame[row] = Math.Abs(_one[row] - (gain * _other[row])) <= _within;
                Same += _isAsked[row] && _isSame[row] ? 1 : 0;
            }
        }

        /// <summary>Written so coarsely that two may stand together by their digits for hours, not for days.</summary>
        public bool IsCoarse { get; }

        private int Asked { get; set; }

        private int Same { get; set; }

        public bool Tells => Asked >= LeastRows && Same >= LeastRows;

        /// <summary>How often what stands alike does so in the next row that is asked; the rows from one to another left out.</summary>
        public double Goes(int from, int to)
        {
            int asked = 0, same = 0;
            var wasSame = false;
            for (var row = 0; row < _rows; row++)
            {
                if (row >= from && row <= to)
                {
                    wasSame = false;
                    continue;
                }

                if (!_isAsked[row]) continue;
                asked += wasSame ? 1 : 0;
                same += wasSame && _isSame[row] ? 1 : 0;
                wasSame = _isSame[row];
            }

            return (same + 1.0) / (asked + 2.0);
        }

        /// <summary>True where too few rows are left outside to tell what the two usually do.</summary>
        public bool IsAllAlong(int from, int to)
        {
            var asked = 0;
            for (var row = 0; row < _rows; row++) asked += _isAsked[row] && (row < from || row > to) ? 1 : 0;
            return asked < LeastOthers;
        }

        public double ShareWithin(int from, int to)
        {
            int asked = 0, same = 0;
            for (var row = from; row <= to; row++)
            {
                asked += _isAsked[row] ? 1 : 0;
                same += _isAsked[row] && _isSame[row] ? 1 : 0;
            }

            return asked < LeastRows ? 0 : (double)same / asked;
        }

        /// <summary>The stretch that speaks loudest; null where none does.</summary>
        /// <param name="ofOthers">How often other pairs stand alike, for a stretch that is all of the recording; NaN where there are none.</param>
        public (int From, int To, double Odds)? Best(double ofOthers = double.NaN)
        {
            var (from, to, _) = Loudest(FirstGuess);
            if (to < from) return null;
            Compare(Math.Max(1, from), to);
            (from, to, _) = Loudest(FirstGuess);
            if (to < from) return null;
            int asked = 0, same = 0;
            for (var row = 0; row < _rows; row++)
            {
                if ((row >= from && row <= to) || !_isAsked[row]) continue;
                asked++;
                same += _isSame[row] ? 1 : 0;
            }

            if (asked < LeastOthers && double.IsNaN(ofOthers)) return null;
            var goes = asked >= LeastOthers ? Goes(from, to) : ofOthers;
            if (asked >= LeastOthers && same > 0.5 * asked) return null;
            var best = Loudest(Math.Min(goes, 0.9));
            return best.Odds < LeastOdds + Math.Log(Math.Max(1, _rows / 1000.0)) ? null : (best.From, best.To, Math.Min(MostOdds, best.Odds));
        }

        private (int From, int To, double Odds) Loudest(double chance)
        {
            double alike = Math.Log(Alike / chance), apart = Math.Log((1 - Alike) / (1 - chance));
            double sum = 0, most = 0;
            int start = 0, from = 0, to = -1, same = 0;
            for (var row = 1; row < _rows; row++)
            {
                if (_isAsked[row]) sum += _isSame[row] ? alike : apart;
                else if (!_isSame[row]) sum += 0.5 * apart;
                if (_isAsked[row] && _isSame[row]) same++;
                if (sum <= 0)
                {
                    (sum, start, same) = (0, row + 1, 0);
                }
                else if (sum > most && same >= LeastRows)
                {
                    (most, from, to) = (sum, start, row);
                }
            }

            // Rows before the first that is asked belong to it as long as they stand alike.
            while (from < to && !_isSame[from]) from++;
            while (from > 1 && from <= to && _isSame[from - 1]) from--;
            while (to >= from && to + 1 < _rows && _isSame[to + 1]) to++;
            if (from == 1 && to > from) from = 0;
            return (from, to, most);
        }
    }
}
