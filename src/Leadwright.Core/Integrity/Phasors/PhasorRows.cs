using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Phasors;

/// <summary>How the voltages and the currents of a wye service change from row to row, each current as a phasor against the voltage of its own channel.</summary>
/// <remarks>
/// The supply moves all voltages alike: what is kept of each is its change less the mean of the other two. A current is (P − jQ)/V of its channel. Sums are weighted by what a row is known to, so that a quadratic
/// form of them is a log-likelihood in nats.
/// </remarks>
internal sealed class PhasorRows
{
    /// <summary>Three currents of two parts each.</summary>
    public const int Parts = 6;

    /// <summary>A large step is answered as the law says to a fifth only.</summary>
    private const double KnownTo = 0.05;
    private const double MostMoved = 0.1;
    private const double AnyStep = 0.006;

    /// <summary>The three are known less their mean: two of them tell it all.</summary>
    private const double TwoOfThree = 2.0 / 3;
    private const int LeastRows = 60;
    private const int MostTeachers = 20000;
    private const double Beyond = 3.5;
    private readonly double[][] _apart = new double[3][];
    private readonly double[][] _parts = new double[Parts][];
    private readonly double[] _mean;
    private readonly double[][] _watts = new double[3][];
    private readonly double[][] _vars = new double[3][];
    private readonly GuardFrame _frame;

    private PhasorRows(GuardFrame frame)
    {
        var rows = frame.Count;
        (_frame, _mean) = (frame, new double[rows]);
        for (var channel = 0; channel < 3; channel++) _apart[channel] = new double[rows];
        for (var part = 0; part < Parts; part++) _parts[part] = new double[rows];
    }

    /// <summary>What is left of a row's changes when everything that follows the currents is taken away, per unit.</summary>
    public double Spread { get; private set; }

    /// <summary>True where the changes into a row are known.</summary>
    public bool Tells(int row) => !double.IsNaN(_apart[0][row]);

    /// <summary>Takes the changes; null on another service, without watts, vars and volts of all three phases, or where too few rows tell.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="isAsked">True for rows that may tell, both the row and the one before it; null for all.</param>
    /// <param name="isAsLoads">True where vars that were not written may be taken for those of loads that lag, as they are while clamps are where they belong.</param>
    public static PhasorRows? Of(GuardFrame frame, VoltageHistory voltages, Func<int, bool>? isAsked = null, bool isAsLoads = false)
    {
        if (frame.Service.Kind != ServiceKind.Wye || frame.IsPairs) return null;
        for (var line = 0; line < 3; line++)
        {
            if (frame.Volts[line] is null) return null;
            if ((frame.Watts[line] is null || frame.Vars[line] is null) && !(isAsLoads && frame.Amperes[line] is not null && !frame.Options.Check.MayExport)) return null;
        }

        var rows = new PhasorRows(frame);
        rows.IsAssumed = Array.Exists(frame.Watts, column => column is null);
        for (var line = 0; line < 3; line++) (rows._watts[line], rows._vars[line]) = rows.IsAssumed ? Assumed(frame, line) : (frame.Watts[line]!, frame.Vars[line] ?? Lagging(frame, line));
        var dips = SupplyDips.Rows(frame);
        var known = 0;
        for (var row = 0; row < frame.Count; row++) known += rows.Take(frame, row, row > 0 && IsWhole(row) && IsWhole(row - 1)) ? 1 : 0;
        if (known < LeastRows) return null;
        rows.Learn();
        return rows.Spread > 0 ? rows : null;

        bool IsWhole(int row) => voltages.At(row).Kind is VoltageStateKind.Sound or VoltageStateKind.Leads && isAsked?.Invoke(row) != false && (dips.Length == 0 || !dips[row]);
    }

    /// <summary>Log-density of a row's changes under a law, the supply's having heavy tails.</summary>
    /// <param name="row">The row.</param>
    /// <param name="law">Weights by channel and part.</param>
    public double Say(int row, double[,] law)
    {
        double say = 0;
        for (var channel = 0; channel < 3; channel++)
        {
            double expected = 0;
            for (var part = 0; part < Parts; part++) expected += law[channel, part] * _parts[part][row];
            say += NeutralLeadChain.Say(_apart[channel][row] - expected, Math.Sqrt((Spread * Spread) + (KnownTo * expected * expected)));
        }

        return TwoOfThree * say;
    }

    /// <summary>The same where no law is asked, as of a row in which a lead was moved.</summary>
    public double SayAny(int row)
    {
        double say = 0;
        for (var channel = 0; channel < 3; channel++) say += NeutralLeadChain.Say(_apart[channel][row], Math.Max(AnyStep, 2 * Spread));
        return TwoOfThree * say;
    }

    /// <summary>Log-likelihood that the mean of the voltages answers by one impedance of the lines and not by another, nats: with the neutral lead on or off each line's current lowers it by a third of what it does
    /// to the line. The supply moves it by itself.</summary>
    /// <param name="one">The one.</param>
    /// <param name="other">The other.</param>
    public double SayMean(Phasor one, Phasor other)
    {
        int[] rows = [.. Enumerable.Range(1, _mean.Length - 1).Where(Tells)];
        var spread = Robust.Deviation([.. rows.Select(row => _mean[row])]);
        if (!(spread > 0)) return 0;
        return rows.Sum(row => Of(row, one) - Of(row, other));

        double Of(int row, Phasor line)
        {
            double expected = 0;
            for (var channel = 0; channel < 3; channel++) expected -= ((line.Real * _parts[2 * channel][row]) + (line.Imaginary * _parts[(2 * channel) + 1][row])) / 3;
            return NeutralLeadChain.Say(_mean[row] - expected, Math.Sqrt((spread * spread) + (KnownTo * expected * expected)));
        }
    }

    /// <summary>A channel's voltage less the mean of the others', less what a law says the currents make of it; not a change.</summary>
    public double Rest(int channel, int row, double[,] law)
    {
        var rest = Stands(channel, row);
        for (var own = 0; own < 3; own++)
        {
            var volts = _frame.Volts[own]![row];
            rest -= ((law[channel, 2 * own] * _watts[own][row]) + (law[channel, (2 * own) + 1] * _vars[own][row])) / volts;
        }

        return rest;
    }

    /// <summary>Weighted sums over some rows.</summary>
    public PhasorSums Sum(IEnumerable<int> rows)
    {
        var sums = new PhasorSums();
        Span<double> parts = stackalloc double[Parts];
        Span<double> apart = stackalloc double[3];
        foreach (var row in rows)
        {
            if (!Tells(row)) continue;
            double square = 0;
            for (var channel = 0; channel < 3; channel++)
            {
                apart[channel] = _apart[channel][row];
                square += apart[channel] * apart[channel] / 3;
            }

            for (var part = 0; part < Parts; part++) parts[part] = _parts[part][row];
            sums.Add(parts, apart, 1 / ((Spread * Spread) + (KnownTo * square)));
        }

        return sums;
    }

    /// <summary>The vars that volt-amperes leave beside the watts.</summary>
    private static double[] Lagging(GuardFrame frame, int line)
    {
        double[] volts = frame.Volts[line]!, amperes = frame.Amperes[line]!, watts = frame.Watts[line]!;
        var vars = new double[frame.Count];
        for (var row = 0; row < vars.Length; row++)
        {
            var apparent = volts[row] * frame.UnitVolts * amperes[row];
            vars[row] = Math.Sqrt(Math.Max(0, (apparent * apparent) - (watts[row] * watts[row])));
        }

        return vars;
    }

    /// <summary>Watts and vars of amperes that stand as the total does, or along their voltage where that was not written: by one angle more for all, which the impedances take up.</summary>
    private static (double[] Watts, double[] Vars) Assumed(GuardFrame frame, int line)
    {
        double[] volts = frame.Volts[line]!, amperes = frame.Amperes[line]!, watts = new double[frame.Count], vars = new double[frame.Count];
        for (var row = 0; row < watts.Length; row++)
        {
            double real = frame.TotalWatts?[row] ?? double.NaN, across = frame.TotalVars?[row] ?? double.NaN, size = Math.Sqrt((real * real) + (across * across));
            var apparent = volts[row] * frame.UnitVolts * amperes[row];
            (watts[row], vars[row]) = size > 0 ? (apparent * real / size, apparent * across / size) : (apparent, 0);
        }

        return (watts, vars);
    }

    /// <summary>True where the angles of the currents were not written.</summary>
    public bool IsAssumed { get; private set; }

    /// <summary>The watts of a channel, as written or as assumed.</summary>
    public double Watts(int channel, int row) => _watts[channel][row];

    /// <summary>The vars of a channel, as written or as those of loads.</summary>
    public double Vars(int channel, int row) => _vars[channel][row];

    private bool Take(GuardFrame frame, int row, bool isAsked)
    {
        var isKnown = isAsked && frame.Starts[row] - frame.Starts[row - 1] < 1.5 * frame.Log.IntervalTicks;
        for (var line = 0; isKnown && line < 3; line++)
        {
            double[] volts = frame.Volts[line]!, watts = _watts[line], vars = _vars[line];
            double now = volts[row], then = volts[row - 1];
            isKnown = now > 0.5 && then > 0.5 && Math.Abs(now - then) < MostMoved;
            _parts[2 * line][row] = (watts[row] / now) - (watts[row - 1] / then);
            _parts[(2 * line) + 1][row] = (vars[row] / now) - (vars[row - 1] / then);
            isKnown &= double.IsFinite(_parts[2 * line][row] + _parts[(2 * line) + 1][row]);
        }

        for (var line = 0; line < 3; line++)
        {
            _apart[line][row] = isKnown ? Stands(line, row) - Stands(line, row - 1) : double.NaN;
            _mean[row] += isKnown ? (frame.Volts[line]![row] - frame.Volts[line]![row - 1]) / 3 : 0;
        }

        return isKnown;
    }

    private double Stands(int line, int at) => _frame.Volts[line]![at] - (0.5 * (_frame.Volts[(line + 1) % 3]![at] + _frame.Volts[(line + 2) % 3]![at]));

    /// <summary>The spread beside any linear law of the six parts.</summary>
    private void Learn()
    {
        var step = Math.Max(1, _apart[0].Length / MostTeachers);
        int[] rows = [.. Enumerable.Range(1, (_apart[0].Length - 1) / step).Select(index => index * step).Where(Tells)];
        double square = 0;
        for (var channel = 0; channel < 3; channel++)
        {
            double[] weights = new double[Parts], parts = new double[Parts];
            double spread = double.PositiveInfinity;
            for (var pass = 0; pass < 3; pass++)
            {
                var sums = new NormalEquations(Parts);
                foreach (var row in rows)
                {
                    if (Math.Abs(Rest(row)) > Beyond * spread) continue;
                    for (var part = 0; part < Parts; part++) parts[part] = _parts[part][row];
                    sums.Add(parts, _apart[channel][row]);
                }

                if (sums.Solve() is not { } solved) return;
                weights = solved;
                spread = Robust.Deviation([.. rows.Select(Rest)]);
            }

            square += spread * spread / 3;

            double Rest(int row)
            {
                var rest = _apart[channel][row];
                for (var part = 0; part < Parts; part++) rest -= weights[part] * _parts[part][row];
                return rest;
            }
        }

        Spread = Math.Sqrt(square);
    }
}
