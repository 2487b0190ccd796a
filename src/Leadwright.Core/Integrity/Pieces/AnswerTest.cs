using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Phasors;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Whether each line's voltage answers to the current that an arrangement says is that line's: amperes and volts alone, so that it speaks where no
/// vars were written, and whichever way round a clamp is.</summary>
/// <remarks>
/// A current in a line lowers that line's voltage and moves those of the others by half as much the other way, about the mean of all: on star voltages
/// V(k) less the mean of the others moves by −z (dI(k) − ½ Σ dI(others)), on pair voltages by −z (½ (dI(k) + dI(k+1)) − dI(k+2)). The gain of an arrangement
/// in log-likelihood over no answer at all is z Σ w v p − ½ z² Σ w p²; with the anchor's own z where pieces are judged, with the best z where the anchor itself
/// is. By day on a site that exports a current's size tells nothing of its direction: those rows are left out. Derivation: docs/methods/guard.md.
/// </remarks>
internal sealed class AnswerTest
{
    private const double Temper = 0.5;
    public const double Most = 25;

    /// <summary>What the answers leave out, as loads' angles, makes of gains that are nearly alike no difference.</summary>
    private const double Slack = 0.1;
    private const int LeastRows = 12;
    private readonly GuardFrame _frame;
    private readonly double[][]? _changes;
    private readonly double[] _spreads = new double[3];
    private readonly Dictionary<RowKey, Sums?> _sums = [];
    private readonly double[] _impedances = new double[3];
    private readonly PhasorRows? _phasors;
    private PhasorLaw? _law;

    public AnswerTest(GuardFrame frame, VoltageHistory voltages, PhasorCourse moved)
    {
        _frame = frame;
        // Rows of a clamp that was on the neutral are among those of any key.
        _phasors = !moved.IsLawful ? null : PhasorRows.Of(frame, voltages, row => !moved.Stretches.Exists(stretch => row >= stretch.From && row <= stretch.To));
        if (_phasors is not null) return;
        var isAble = frame.Service.Kind is ServiceKind.Wye or ServiceKind.Delta or ServiceKind.Split or ServiceKind.Network;
        for (var line = 0; line < frame.Lines; line++) isAble &= frame.Volts[line] is not null && frame.Amperes[line] is not null;
        if (!isAble || frame.Lines < 2) return;
        _changes = [.. Enumerable.Range(0, frame.Lines).Select(_ => new double[frame.Count])];
        for (var channel = 0; channel < frame.Lines; channel++)
        {
            for (var row = 0; row < frame.Count; row++) _changes[channel][row] = Tells(voltages, row) ? Relative(channel, row) - Relative(channel, row - 1) : double.NaN;
            _spreads[channel] = Math.Max(2e-4, Robust.Deviation(_changes[channel]));
        }
    }

    /// <summary>Sums over the rows of one key.</summary>
    public sealed class Sums(int lines)
    {
        public int Rows { get; set; }

        /// <summary>The same of currents as phasors, where watts and vars were written; null otherwise.</summary>
        public PhasorSums? Phasors { get; init; }

        /// <summary>Products of the voltages' changes with the currents', by channel and clamp.</summary>
        public double[,] Both { get; } = new double[lines, lines];

        /// <summary>Products of the currents' changes, by channel (whose weights they carry) and two clamps.</summary>
        public double[,,] Own { get; } = new double[lines, lines, lines];
    }

    /// <summary>Adds up the rows of a key's pieces; null where they tell nothing.</summary>
    public Sums? Of(RowKey key, List<RowPiece> pieces)
    {
        if (!_sums.TryGetValue(key, out var sums)) _sums.Add(key, sums = Of(pieces));
        return sums;
    }

    private Sums? Of(List<RowPiece> pieces)
    {
        if (_phasors is not null)
        {
            var phasors = _phasors.Sum(pieces.SelectMany(piece => Enumerable.Range(piece.From + 1, piece.To - piece.From)));
            return phasors.Rows < LeastRows ? null : new Sums(0) { Phasors = phasors, Rows = phasors.Rows };
        }

        if (_changes is null) return null;
        var sums = new Sums(_frame.Lines);
        Span<double> steps = stackalloc double[3];
        foreach (var piece in pieces)
        {
            for (var row = piece.From + 1; row <= piece.To; row++)
            {
                if (double.IsNaN(_changes[0][row])) continue;
                var isKnown = true;
                for (var clamp = 0; clamp < _frame.Lines; clamp++)
                {
                    steps[clamp] = _frame.Amperes[clamp]![row] - _frame.Amperes[clamp]![row - 1];
                    isKnown &= !double.IsNaN(steps[clamp]);
                }

                if (!isKnown) continue;
                sums.Rows++;
                for (var channel = 0; channel < _frame.Lines; channel++)
                {
                    var change = _changes[channel][row];
                    // A large step is known to a third only.
                    var weight = 1 / ((_spreads[channel] * _spreads[channel]) + (0.1 * change * change));
                    for (var one = 0; one < _frame.Lines; one++)
                    {
                        sums.Both[channel, one] += weight * change * steps[one];
                        for (var other = 0; other < _frame.Lines; other++) sums.Own[channel, one, other] += weight * steps[one] * steps[other];
                    }
                }
            }
        }

        return sums.Rows < LeastRows ? null : sums;
    }

    /// <summary>Learns how strongly each line's voltage answers, from the anchor.</summary>
    public void Learn(Arrangement anchor, Sums? sums)
    {
        Array.Clear(_impedances);
        _law = null;
        if (sums is null) return;
        if (sums.Phasors is { } phasors)
        {
            return;
        }

        for (var channel = 0; channel < _frame.Lines; channel++)
        {
            if (anchor.Leads[channel] is not (>= 0 and < 3 and var line)) continue;
            var (both, own) = Products(anchor, sums, channel);
            if (own > 0) _impedances[line] = Math.Max(0, both / own);
        }
    }

    /// <summary>Log-likelihood that a piece's arrangement wins over no answer, with the impedances learned.</summary>
    public double Gain(Arrangement arrangement, Sums? sums)
    {
        if (sums is null || !Speaks(arrangement)) return 0;
        if (sums.Phasors is { } phasors) return Temper * (_law?.GainOf(arrangement, _frame.Ideal, phasors) ?? 0);
        double gain = 0;
        for (var channel = 0; channel < _frame.Lines; channel++)
        {
            var z = _impedances[arrangement.Leads[channel]];
            var (both, own) = Products(arrangement, sums, channel);
            gain += (z * both) - (0.5 * z * z * own);
        }

        return Temper * gain;
    }

    /// <summary>The same for the anchor, each impedance at its best.</summary>
    public double BestGain(Arrangement anchor, Sums? sums)
    {
        if (sums is null || !Speaks(anchor)) return 0;
        if (sums.Phasors is { } phasors) return Temper * (PhasorLaw.Best(anchor, _frame.Ideal, phasors)?.Gain ?? 0);
        double gain = 0;
        for (var channel = 0; channel < _frame.Lines; channel++)
        {
            var (both, own) = Products(anchor, sums, channel);
            if (both > 0 && own > 0) gain += 0.5 * both * both / own;
        }

        return Temper * gain;
    }

    /// <summary>By how much one gain is less than another, zero or less; no more than the answers are trusted for.</summary>
    public static double Less(double gain, double most) => -Math.Clamp(most - gain - (Slack * Math.Max(0, most - Most)), 0, Most);

    /// <summary>True where currents are known as phasors: they tell the order of the lines as well.</summary>
    public bool TellsRotation => _phasors is not null;

    /// <summary>True when every line has one lead and one clamp: only then is every current known that moves the voltages. What currents a line without a
    /// clamp carries goes along with the others' far too often to be left out.</summary>
    public bool Speaks(Arrangement arrangement)
    {
        // A clamp on the neutral beside others that are elsewhere too fits nearly anything.
        var away = Enumerable.Range(0, 3).Count(clamp => arrangement.Clamps[clamp] != clamp);
        if (_phasors is not null) return (away < 2 || Array.IndexOf(arrangement.Clamps, 3, 0, 3) < 0) && PhasorLaw.Basis(arrangement, _frame.Ideal) is not null;
        if (_changes is null || (!_frame.Service.IsThreeWire && arrangement.Leads[3] != 3)) return false;
        for (var line = 0; line < _frame.Lines; line++)
        {
            if (Array.IndexOf(arrangement.Leads, line, 0, _frame.Lines) < 0 || Array.IndexOf(arrangement.Clamps, line, 0, _frame.Lines) < 0) return false;
        }

        return true;
    }

    /// <summary>Σ w v p and Σ w p² of a channel, p being what the arrangement predicts for an impedance of 1.</summary>
    private (double Both, double Own) Products(Arrangement arrangement, Sums sums, int channel)
    {
        Span<double> shares = stackalloc double[3];
        for (var clamp = 0; clamp < _frame.Lines; clamp++)
        {
            shares[clamp] = 0;
            var on = arrangement.Clamps[clamp];
            if (on is < 0 or > 2) continue;
            shares[clamp] = Answer(arrangement, channel, on);
        }

        double both = 0, own = 0;
        for (var one = 0; one < _frame.Lines; one++)
        {
            both += shares[one] * sums.Both[channel, one];
            for (var other = 0; other < _frame.Lines; other++) own += shares[one] * shares[other] * sums.Own[channel, one, other];
        }

        return (both, own);
    }

    /// <summary>What an ampere in a line does to a channel's voltage less the mean of the other channels'.</summary>
    private double Answer(Arrangement arrangement, int channel, int line)
    {
        double others = 0;
        for (var other = 0; other < _frame.Lines; other++)
        {
            if (other != channel) others += Of(arrangement, other, line) / (_frame.Lines - 1);
        }

        return Of(arrangement, channel, line) - others;
    }

    private double Of(Arrangement arrangement, int channel, int line)
    {
        var own = arrangement.Leads[channel];
        if (!_frame.IsPairs) return own == line ? -2.0 / 3 : 1.0 / 3;
        var next = arrangement.Leads[(channel + 1) % 3];
        return own == line || next == line ? -1.0 / 3 : 2.0 / 3;
    }

    private bool Tells(VoltageHistory voltages, int row)
    {
        if (row == 0 || voltages.At(row).Kind is not (VoltageStateKind.Sound or VoltageStateKind.Leads) || voltages.Rows[row] != voltages.Rows[row - 1]) return false;
        if (_frame.Starts[row] - _frame.Starts[row - 1] > 1.5 * _frame.Log.IntervalTicks) return false;
        return !_frame.Options.Check.MayExport || _frame.From(row).Hour is < 5 or >= 21;
    }

    private double Relative(int channel, int row)
    {
        double others = 0;
        for (var other = 0; other < _frame.Lines; other++) others += other == channel ? 0 : _frame.Volts[other]![row] / (_frame.Lines - 1);
        return _frame.Volts[channel]![row] - others;
    }
}
