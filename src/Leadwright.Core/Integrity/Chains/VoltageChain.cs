using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>What the voltages did in every row.</summary>
/// <param name="States">The states that were weighed.</param>
/// <param name="Rows">Number of the state of each row.</param>
/// <param name="Base">What each sound channel usually reads, in its unit.</param>
/// <param name="Floors">The current below which a clamp reads nothing, amperes.</param>
internal sealed record VoltageHistory(VoltageState[] States, byte[] Rows, double[] Base, double[] Floors)
{
    public VoltageState At(int row) => States[Rows[row]];
}

/// <summary>Weighs what the voltages may be doing, row by row, and finds the likeliest history.</summary>
internal sealed class VoltageChain
{
    private const double CommonSpread = 0.025;
    private const double PatternSpread = 0.02;
    private const double LegSpread = 0.003;
    private const double NoPickUp = 0.001;
    private const double MostInTheAir = 0.93;
    // How often the two currents of a loop are not alike: what comes back may go by the earth, or in part by what else is tied to a network's star point.
    private const double PastTheLoop = 0.02;
    private const double PastTheLoopOfLegs = 0.002;
    private const double MostOfTheOthers = 1.15;
    private const double PulledDownTo = 0.8;
    private const double HeavyShare = 0.9;
    private const double PulledDown = -8;
    private const double ReturnedShare = 0.25;
    // More than half of it takes another way only where what returns by the neutral still does.
    private const double MostlyPastTheLoop = 1e-4;
    // Two legs may carry anything beside each other.
    private const double AnyLegs = 0.1;
    private const double AnyLines = 0.02;
    // Rows in which a line carries nothing go on from one another.
    private const double StaysIdle = 0.5;
    private static readonly double s_commonLog = Math.Log(CommonSpread);
    private static readonly double s_patternLog = Math.Log(PatternSpread);
    private static readonly double s_legLog = Math.Log(LegSpread);
    private static readonly double s_openLow = Math.Log(6.3);
    private static readonly double s_openHigh = Math.Log(0.33);
    private static readonly double s_unheld = Math.Log(0.6);
    private static readonly double s_held = Math.Log(0.4 / 9);
    private static readonly double s_mixed = Math.Log(0.01);

    // A or C, and B, by tenths of what motors hold up.
    private static readonly (double Line, double High)[] s_highLeg = [.. Enumerable.Range(0, 11).Select(tenths => VoltageStates.HighLeg(0, tenths / 10.0)).Select(reads => (reads[0], reads[1] / Math.Sqrt(3)))];
    private readonly GuardFrame _frame;
    private readonly VoltageState[] _states;
    private readonly double[] _base = new double[3];
    private readonly double[] _floors = new double[4];
    private readonly double[] _heavy = new double[4];
    private readonly double[] _idle = new double[4];
    private readonly double[] _rests = new double[4];
    private readonly double[] _sound;
    private readonly double[][] _patternLogs;

    // What one row's channels say whatever the state: logarithms of the voltages, of their share of the usual, and of open, lost and dead channels.
    private readonly double[] _logs = new double[3];
    private readonly double[] _shares = new double[3];
    private readonly double[] _open = new double[3];
    private readonly double[] _lost = new double[3];
    private readonly double[] _zero = new double[3];
    private readonly double _spreadLog;
    private double _spread;
    private double _loopUsual;
    private double _loopSpread;

    private VoltageChain(GuardFrame frame)
    {
        _frame = frame;
        _states = VoltageStates.Of(frame);
        _sound = _states[0].Pattern;
        Learn();
        LearnLoop();
        _patternLogs = [.. _states.Select(state => Enumerable.Range(0, frame.Lines).Select(index => Math.Log(state.Pattern[index] * _base[index] / _sound[index])).ToArray())];
        _spreadLog = Math.Log(_spread);
    }

    public static VoltageHistory Find(GuardFrame frame, CancellationToken cancellation) => new VoltageChain(frame).Find(cancellation);

    private VoltageHistory Find(CancellationToken cancellation)
    {
        var chain = new StateChain([.. _states.Select(state => state.Enter)], _frame.Count);
        Span<double> volts = stackalloc double[3];
        for (var row = 0; row < _frame.Count; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            var says = chain.Says;
            var isKnown = true;
            for (var index = 0; index < _frame.Lines; index++)
            {
                volts[index] = _frame.Volts[index] is { } column ? column[row] : double.NaN;
                isKnown &= !double.IsNaN(volts[index]);
            }

            if (isKnown)
            {
                Prepare(volts);
                for (var state = 0; state < _states.Length; state++) says[state] = Say(state, volts) + SayCurrents(_states[state], row);
            }
            else
            {
                says.Clear();
            }

            chain.Take();
        }

        var history = chain.History();
        SupplyDips.TakeBack(_frame, _states, history);
        DyingVoltages.Date(_frame, _states, history, _floors);
        PutOnNeutral(history);
        return new VoltageHistory(_states, history, _base, _floors);
    }

    /// <summary>A lead that reads nothing at all between the two mixed intervals of its edges is on the neutral: in the air it picks something up.</summary>
    private void PutOnNeutral(byte[] history)
    {
        for (var row = 0; row < history.Length; row++)
        {
            var last = row;
            while (last + 1 < history.Length && history[last + 1] == history[row]) last++;
            var state = _states[history[row]];
            var isOne = state.Kind == VoltageStateKind.Leads && state.Line < 3 && state.Leads[state.Line] < 0 && state.Leads[3] == 3 && state.Leads.Count(on => on < 0) == 1;
            if (isOne && !_frame.IsPairs && last - row >= 2 && _frame.Volts[state.Line] is { } volts)
            {
                var most = 0.0;
                for (var at = row + 1; at < last; at++) most = Math.Max(most, volts[at]);
                var onNeutral = Array.FindIndex(_states, entry => entry.Kind == VoltageStateKind.Leads && entry.Line == state.Line && entry.Leads[state.Line] == 3 && entry.Leads[3] == 3);
                if (most < NoPickUp && onNeutral >= 0) Array.Fill(history, (byte)onNeutral, row, last - row + 1);
            }

            // And one that steadily reads something is in the air: on the neutral there is nothing between it and the neutral lead but what the neutral's current makes.
            if (state.Kind == VoltageStateKind.Leads && !_frame.IsPairs && state.Line < 3 && state.Leads[state.Line] == 3 && state.Leads[3] == 3 && last - row >= 2 && _frame.Volts[state.Line] is { } reads)
            {
                var within = reads.AsSpan(row + 1, last - row - 1);
                double middle = Robust.Median(within), low = Robust.Quantile(within, 0.2);
                var isSteady = middle > 2.5 * NoPickUp && low > 1.5 * NoPickUp;
                // A clip lets go by itself; nobody comes to move it to the neutral bar.
                var hasFallen = row > 0 && middle > 0.5 * NoPickUp && low > 0.2 * middle;
                var inTheAir = Array.FindIndex(_states, entry => entry.Kind == VoltageStateKind.Leads && entry.Line == state.Line && entry.Leads[state.Line] < 0 && entry.Leads[3] == 3 && entry.Leads.Count(on => on < 0) == 1);
                if ((isSteady || hasFallen) && inTheAir >= 0) Array.Fill(history, (byte)inTheAir, row, last - row + 1);
            }

            row = last;
        }
    }

    private void Learn()
    {
        // One bad channel of three does not move the middle of their middles.
        var level = Robust.Median([.. Enumerable.Range(0, _frame.Lines).Where(index => _frame.Volts[index] is not null).Select(index => Robust.Median(_frame.Volts[index]!) / _sound[index])]);
        if (!(level is > 0.88 and < 1.12)) level = 1;
        var deviations = new List<double>();
        LearnBase(level);

        // How far apart sound channels drift: the spread of each about their mean.
        if (_frame.Lines > 1 && _frame.Volts.Take(_frame.Lines).All(column => column is not null))
        {
            for (var row = 0; row < _frame.Count; row += Math.Max(1, _frame.Count / 20000))
            {
                double sum = 0;
                var isSound = true;
                for (var index = 0; index < _frame.Lines; index++)
                {
                    var relative = _frame.Volts[index]![row] / _base[index];
                    isSound &= relative is > 0.85 and < 1.15;
                    sum += Math.Log(relative);
                }

                if (isSound) deviations.Add(Math.Log(_frame.Volts[0]![row] / _base[0]) - (sum / _frame.Lines));
            }
        }

        var spread = Robust.Deviation([.. deviations]);
        _spread = double.IsNaN(spread) ? 0.01 : Math.Clamp(1.7 * spread, 0.004, 0.02);
        for (var index = 0; index < 4; index++)
        {
            if (_frame.Amperes[index] is not { } amperes) continue;
            var high = Robust.Quantile(amperes, 0.95);
            _floors[index] = 0.004 * high;
            _heavy[index] = high;
        }

        // A clamp that is off all week must not lower the floor to its own noise.
        // The middle of three, so that one at ten times its size does not raise it for all.
        var top = _frame.Lines == 3 ? _floors.Take(3).Order().ElementAt(1) : _floors.Take(3).Max();
        for (var index = 0; index < 4; index++)
        {
            if (_frame.Amperes[index] is not { } amperes) continue;
            _floors[index] = Math.Max(_floors[index], 3 * top);
            // How often the line falls idle.
            var falls = 0;
            for (var row = 1; row < amperes.Length; row++)
            {
                if (amperes[row] < _floors[index] && amperes[row - 1] >= _floors[index]) falls++;
            }

            _idle[index] = Math.Clamp((double)falls / Math.Max(1, amperes.Length), 5e-4, 0.5);
            _rests[index] = Math.Clamp((double)amperes.Count(ampere => ampere < _floors[index]) / Math.Max(1, amperes.Length), 0.01, 1);
        }
    }

    /// <summary>What each channel reads while it is sound: the channel that is so most often by itself, the others by their ratio to it in the rows that
    /// both share. A lead that was on for a day of seven is not held against the level of the other six.</summary>
    private void LearnBase(double level)
    {
        var counts = new int[3];
        bool IsSound(int index, int row) =>
            _frame.Volts[index] is { } column && column[row] > 0.92 * level * _sound[index] && column[row] < 1.08 * level * _sound[index];
        for (var index = 0; index < _frame.Lines; index++)
        {
            _base[index] = _sound[index];
            for (var row = 0; row < _frame.Count; row++) counts[index] += IsSound(index, row) ? 1 : 0;
        }

        var lead = Array.IndexOf(counts, counts.Max());
        if (counts[lead] <= _frame.Count / 20) return;
        _base[lead] = Robust.Median(Array.FindAll(_frame.Volts[lead]!, value => value > 0.92 * level * _sound[lead] && value < 1.08 * level * _sound[lead]));
        var ratios = new List<double>();
        for (var index = 0; index < _frame.Lines; index++)
        {
            if (index == lead || counts[index] <= _frame.Count / 100) continue;
            ratios.Clear();
            for (var row = 0; row < _frame.Count; row++)
            {
                if (IsSound(index, row) && IsSound(lead, row)) ratios.Add(_frame.Volts[index]![row] / _frame.Volts[lead]![row]);
            }

            if (ratios.Count > Math.Max(5, _frame.Count / 100)) _base[index] = _base[lead] * Robust.Median([.. ratios]);
        }
    }

    private void LearnLoop()
    {
        if ((_frame.Lines != 2 && !_frame.IsTwoElement) || _frame.Amperes[0] is not { } one || _frame.Amperes[_frame.IsTwoElement ? 2 : 1] is not { } other) return;
        double[] offs = [.. one.Zip(other, (first, second) => Math.Log(first / second)).Where(double.IsFinite)];
        if (offs.Length < 20) return;
        _loopUsual = Robust.Median(offs);
        _loopSpread = Math.Clamp(Robust.Deviation(offs), 0.05, 1);
    }

    private void Prepare(ReadOnlySpan<double> volts)
    {
        for (var index = 0; index < _frame.Lines; index++)
        {
            var value = Math.Max(volts[index], 1e-5);
            _logs[index] = Math.Log(value);
            _shares[index] = Math.Log(Math.Max(0.1, value / _base[index]));
            _open[index] = OpenDensity(volts[index] / _base[index]);
            _lost[index] = LostDensity(volts[index] / _base[index], _frame.IsPairs);
            _zero[index] = ZeroDensity(value / _base[index]);
        }
    }

    private double Say(int state, ReadOnlySpan<double> volts) => _states[state].Kind switch
    {
        VoltageStateKind.UpstreamPhaseLost => SayUpstream(_states[state], volts),
        VoltageStateKind.SupplyNeutralLost => SayNeutralLost(volts),
        _ => SayPattern(_states[state], _patternLogs[state], volts),
    };

    private double SayPattern(VoltageState state, double[] patternLogs, ReadOnlySpan<double> volts)
    {
        double sum = 0, square = 0, log = 0;
        var live = 0;
        for (var index = 0; index < _frame.Lines; index++)
        {
            var pattern = state.Pattern[index];
            if (double.IsNaN(pattern))
            {
                log += state.Kind == VoltageStateKind.LineLost ? _lost[index] : _open[index];
                continue;
            }

            if (pattern < 1e-6)
            {
                log += _zero[index];
                continue;
            }

            var deviation = _logs[index] - patternLogs[index];
            sum += deviation;
            square += deviation * deviation;
            log -= _shares[index];
            live++;
        }

        if (state.Kind == VoltageStateKind.LineLost && _frame.IsPairs) log += SayBetween(volts[state.Line], volts[(state.Line + 2) % 3], volts[(state.Line + 1) % 3]);
        if (live == 0) return log;
        var common = sum / live;
        log += Student(common * common, CommonSpread, s_commonLog, 1);
        if (live == 1) return log;
        var (spread, spreadLog) = state.Kind is VoltageStateKind.Sound or VoltageStateKind.LineLost || state.Leads[3] == 3 ? (_spread, _spreadLog) : (PatternSpread, s_patternLog);
        // Two legs share what is between them in halves, to the inputs' errors.
        if (state.Leads[3] < 0 && _frame.Lines == 2) (spread, spreadLog) = (LegSpread, s_legLog);
        var rest = Math.Max(0, square - (live * common * common));
        return log + Student(rest, spread, spreadLog, live - 1);
    }

    /// <summary>Two channels of a lost line in lead-to-lead values read the same, or share what is between the other lines as the loads across them do: no less than it together, and not much more.</summary>
    private static double SayBetween(double one, double other, double kept)
    {
        var share = (one + other) / Math.Max(kept, 1e-4);
        return Math.Log((0.7 * Math.Exp(Normal(Math.Log(Math.Max(one, 1e-4) / Math.Max(other, 1e-4)), 0.03))) + (share is > 0.98 and < 1.3 ? 0.3 : 1e-9));
    }

    private double SayUpstream(VoltageState state, ReadOnlySpan<double> volts)
    {
        var line = state.Line;
        if (_frame.IsPairs)
        {
            var between = (line + 1) % 3;
            double held = volts[between] / _base[between], one = volts[line] / _base[line], other = volts[(line + 2) % 3] / _base[(line + 2) % 3];
            if (one <= 0 || other <= 0) return -60;
            var expected = (new Phasor(1.5 - (0.5 * held), 0) - (held * Phasor.FromDegrees(1, -120))).Magnitude / Math.Sqrt(3);
            return HeldDensity(held)
                + Normal(Math.Log(one / other), 0.02) + Normal(Math.Log((one + other) / (2 * expected)), CommonSpread);
        }

        if (_frame.Service.Kind == ServiceKind.HighLeg) return SayHighLeg(line, volts);
        double kept = volts[line] / _base[line], first = volts[(line + 1) % 3] / _base[(line + 1) % 3], second = volts[(line + 2) % 3] / _base[(line + 2) % 3];
        if (first <= 0.05 || second <= 0.05 || kept <= 0.05) return -60;
        var share = (first + second) / (2 * kept);
        return Normal(Math.Log(kept), CommonSpread) + Normal(Math.Log(first / second), 0.05)
            + Math.Log((0.6 * Math.Exp(Normal(share - 0.5, 0.04))) + (share is > 0.45 and < 0.9 ? 0.6 : 1e-9));
    }

    /// <summary>A and C stand alike about their tap, and both go with B by what motors hold up.</summary>
    private double SayHighLeg(int kept, ReadOnlySpan<double> volts)
    {
        double first = volts[0] / _base[0], second = volts[2] / _base[2], high = volts[1] / _base[1];
        if (kept == 1) return Normal(Math.Log(high), CommonSpread) + HeldDensity((first + second) / 2) + Normal(first - second, 0.02);
        if (first <= 0.05 || second <= 0.05 || high <= 0.05) return -60;
        var best = double.NegativeInfinity;
        for (var tenths = 0; tenths <= 10; tenths++)
        {
            var (line, other) = s_highLeg[tenths];
            double common = Math.Log((first + second) / 2 / line), apart = Math.Log(high / other) - common;
            var prior = tenths == 0 ? s_unheld : tenths < 9 ? s_held : s_mixed;
            best = Math.Max(best, Normal(common, CommonSpread) + Normal(apart, tenths == 0 ? 0.04 : 0.08) + prior);
        }

        return best + Normal(Math.Log(first / second), 0.02);
    }

    /// <summary>The star point moved: the lines still make their triangle, whose side follows from the three distances (two: their sum).</summary>
    private double SayNeutralLost(ReadOnlySpan<double> volts)
    {
        double size, moved;
        if (_frame.Service.Kind == ServiceKind.Split)
        {
            double first = volts[0] / _base[0], second = volts[1] / _base[1];
            size = (first + second) / 2;
            moved = Math.Abs(first - second) / 2;
            if (moved > 0.9 || size <= 0.5) return -60;
            // So near the middle the sound state says as much.
            return Normal(Math.Log(size), 0.02) + (moved < 0.02 ? -4 : 0.2);
        }

        if (_frame.Service.Kind == ServiceKind.HighLeg)
        {
            // The star point moves between the two halves; the high leg then stands off by the triangle's height.
            double first = volts[0] / _base[0], second = volts[2] / _base[2], high = volts[1] / _base[1];
            size = (first + second) / 2;
            moved = Math.Abs(first - second) / 2;
            if (moved > 0.9 || size <= 0.5) return -60;
            var expected = Math.Sqrt(3 + (moved * moved)) / Math.Sqrt(3);
            return Normal(Math.Log(size), 0.02) + Normal(Math.Log(high / size / expected), 0.03) - (moved < 0.02 ? 6 : 0);
        }

        if (_frame.Service.Kind == ServiceKind.Network)
        {
            double first = volts[0] / _base[0], second = volts[1] / _base[1];
            // The star point lies between the two lines, off the straight way where the loads' angles differ.
            return first is > 0.02 and < 1.75 && second is > 0.02 and < 1.75 ? Math.Log((0.7 * Math.Exp(Normal(Math.Log((first + second) / 1.732), 0.03))) + 0.05) + 0.3 : -60;
        }

        if (_frame.Service.Kind != ServiceKind.Wye || _frame.IsPairs) return -60;
        double sum = 0, squares = 0, least = double.MaxValue, most = 0;
        for (var index = 0; index < 3; index++)
        {
            var relative = volts[index] / _base[index];
            var square = relative * relative;
            sum += square;
            squares += square * square;
            least = Math.Min(least, relative);
            most = Math.Max(most, relative);
        }

        var under = (3 * sum * sum) - (6 * squares);
        if (under < 0) return -60;
        size = Math.Sqrt((sum + Math.Sqrt(under)) / 6);
        if (size < 0.5) return -60;
        // So near the middle the sound state says as much.
        return Normal(Math.Log(size), 0.02) + (most - least < 0.012 ? -4 : 0.3);
    }

    private double SayCurrents(VoltageState state, int row)
    {
        // Without a clamp on it nothing tells a lost line from a lost lead: the lead is likelier.
        double log = state.Kind == VoltageStateKind.LineLost && _frame.Amperes[state.Line] is null ? -1 : 0;
        // Without its neutral a service of two lines is one loop: what goes out in one line comes back in the other. So are three wires without the one that has no clamp.
        if (_loopSpread > 0 && (_frame.IsTwoElement ? state.Kind == VoltageStateKind.LineLost && state.Line == 1 : state.Kind == VoltageStateKind.SupplyNeutralLost))
        {
            var off = Math.Log(_frame.Amperes[0]![row] / _frame.Amperes[_frame.IsTwoElement ? 2 : 1]![row]);
            var isSplit = _frame.Service.Kind == ServiceKind.Split;
            var past = !isSplit ? PastTheLoop : Math.Abs(off) < Math.Log(2) ? PastTheLoopOfLegs : MostlyPastTheLoop;
            if (double.IsFinite(off)) log += Math.Log((0.6 * Math.Exp(Normal(off, 0.008))) + (0.4 * Math.Exp(Normal(off, 0.025))) + past) - Math.Log(Math.Exp(Normal(off - _loopUsual, _loopSpread)) + (isSplit ? AnyLegs : AnyLines));
        }

        if (state.Kind == VoltageStateKind.SupplyNeutralLost && _frame.Lines == 3) log += SayThreeAlone(row);
        if (state.Kind == VoltageStateKind.Leads && state.Line < 3 && state.Leads[state.Line] < 0) log += SayPulledDown(state.Line, row);

        // A broken neutral carries nothing, unless the earth takes its place.
        if (_frame.Amperes[3] is { } neutral && row > 0 && neutral[row] < _floors[3] && neutral[row - 1] >= _floors[3])
            log += Math.Log(state.Kind is VoltageStateKind.SupplyNeutralLost or VoltageStateKind.Outage ? 0.7 : _idle[3]);
        for (var index = 0; index < _frame.Lines; index++)
        {
            if (_frame.Amperes[index] is not { } amperes || double.IsNaN(amperes[row])) continue;
            var isGone = state.Kind == VoltageStateKind.Outage || (state.Kind == VoltageStateKind.LineLost && state.Line == index);
            var isIdle = amperes[row] < _floors[index];
            // A line that was idle already tells nothing when it stays so; but between lines a lead in the air may read what a lost line does, and leaves the current as it was.
            if (isIdle && row > 0 && !(amperes[row - 1] >= _floors[index]))
            {
                if (_frame.IsPairs && state.Kind == VoltageStateKind.Leads && state.Leads[index] < 0) log += StaysIdle * Math.Log(_rests[index]);
                continue;
            }

            log += isGone ? Math.Log(isIdle ? 0.95 : 0.02) : isIdle ? Math.Log(_idle[index]) : 0;
        }

        return log;
    }

    /// <summary>What a line's own load pulls down by a tenth or two, while it carries more than it usually does, has a lead.</summary>
    private double SayPulledDown(int line, int row) =>
        !_frame.IsPairs && _frame.Volts[line] is { } volts && _frame.Amperes[line] is { } amperes && volts[row] > PulledDownTo * _base[line] && amperes[row] > HeavyShare * _heavy[line] ? PulledDown : 0;

    /// <summary>Without the neutral three currents add up to nothing: none is more than the other two together, and the neutral's own is none.</summary>
    private double SayThreeAlone(int row)
    {
        double sum = 0, most = 0;
        for (var index = 0; index < 3; index++)
        {
            if (_frame.Amperes[index] is not { } amperes || double.IsNaN(amperes[row])) return 0;
            sum += amperes[row];
            most = Math.Max(most, amperes[row]);
        }

        var isMore = most > MostOfTheOthers * (sum - most) && most > 3 * _floors.Take(3).Max();
        var returns = _frame.Amperes[3] is { } neutral && neutral[row] > ReturnedShare * most && neutral[row] > 3 * _floors[3];
        return isMore || returns ? Math.Log(MostlyPastTheLoop) : 0;
    }

    /// <summary>What stands between two lines that one phase of the high-voltage side fed: nothing, or what motors hold up; in an interval at an edge up to all of it.</summary>
    private static double HeldDensity(double held) => Math.Log((0.5 * Math.Exp(Normal(held, 0.002))) + (0.3 * Math.Exp(Normal(held, 0.02))) + (held < 0.9 ? 0.4 : held < 1.2 ? 0.01 : 1e-9));

    /// <summary>A lead in the air: mostly a few percent, at times anything up to its neighbours, but not what it would read if it were on: so near a line's load has pulled it down.</summary>
    private static double OpenDensity(double volts) => volts < 0.1 ? s_openLow : volts < MostInTheAir ? s_openHigh : -12;

    /// <summary>A line without supply: nothing, or what motors hold up; between two lines also the middle between the others, where loads that are alike leave it. In an interval at an edge anything.</summary>
    private static double LostDensity(double volts, bool isPair) =>
        Math.Log((0.96 * Math.Exp(Normal(volts, 0.002))) + (0.5 * Math.Exp(Normal(volts, 0.02))) + (isPair ? 0.5 * Math.Exp(Normal(volts - 0.5, 0.01)) : 0)
            + (volts is > 0.3 and < 0.98 ? 0.4 : volts < 1.2 ? 0.01 : 1e-6));

    /// <summary>Nothing, or in an interval at an edge anything.</summary>
    private static double ZeroDensity(double volts) => Math.Log((0.96 * Math.Exp(Normal(volts, 0.002))) + (volts < 1.2 ? 0.01 : 1e-9));

    /// <summary>Natural logarithm of the normal density.</summary>
    private static double Normal(double deviation, double spread) =>
        -Math.Log(spread) - 0.919 - (deviation * deviation / (2 * spread * spread));

    /// <summary>Natural logarithm of Student's density in some dimensions, three degrees of freedom: a dip in the interval is no fault of a lead.</summary>
    private static double Student(double square, double spread, double spreadLog, int dimensions) =>
        (dimensions * (-spreadLog - 0.95)) - (0.5 * (3 + dimensions) * Math.Log(1 + (square / (3 * spread * spread))));
}
