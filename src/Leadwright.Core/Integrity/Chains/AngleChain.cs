using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>By how much the power of a channel stood turned in every row, against what is usual in the recording.</summary>
/// <param name="Turns">The turns that were weighed, degrees; the first is none.</param>
/// <param name="Rows">Number of the turn in each row; −1 where the row does not tell.</param>
/// <param name="UsualDegrees">The usual angle of vars and watts, positive when the current lags.</param>
/// <param name="Odds">Mean gain a row of the turn found over none, natural logarithm, in each row.</param>
internal sealed record AngleHistory(double[] Turns, sbyte[] Rows, double UsualDegrees, double[] Odds)
{
    /// <summary>Angle of the power in each row, degrees; NaN where the row does not tell.</summary>
    public required double[] Degrees { get; init; }

    /// <summary>True when the angle is known from watts and vars, not from watts alone.</summary>
    public bool HasVars { get; init; }
}

/// <summary>Weighs by how much the power of one channel is turned: a turned clamp by half a turn, a moved clamp or lead by what lies between
/// the conductors.</summary>
internal sealed class AngleChain
{
    private const double Wild = 0.02;
    private const double Never = -1e3;
    // Capacitors alone stand at ninety, and a clamp's error of two degrees beyond.
    private const double MostOfALoad = 92;

    // What leads by more than this is capacitors; they lead in all lines together, by so much at the least.
    private const double Leading = 50;
    private const double Together = 25;
    private const double MostOfLight = 1.6;
    private const double OfMode = 0.5;
    private const double NearMode = 10;
    private const double MostOfMode = 75;
    private const double LeastOfMode = 0.1;
    private const int MostModes = 3;
    private readonly GuardFrame _frame;
    private readonly VoltageHistory _voltages;
    private readonly CurrentSum? _sum;
    private readonly int _channel;
    private readonly double[] _degrees;
    private readonly List<(double[] Degrees, double Usual)> _others = [];
    private readonly double[] _sizes;
    private readonly double[] _light;
    private readonly double[] _turns;
    private readonly double[] _enter;
    private double[] _modes = [];

    private AngleChain(GuardFrame frame, VoltageHistory voltages, CurrentSum? sum, int channel)
    {
        (_frame, _voltages, _sum, _channel) = (frame, voltages, sum, channel);
        _turns = Turns(frame);
        _enter = [.. _turns.Select(turn => turn == 0 ? 3.0 : turn == 180 ? 10 : IsSingle(turn) ? 11.0 : 17)];
        _degrees = Angles(channel);
        _sizes = frame.Vars[channel] is null ? frame.Amperes[channel]! : Sizes(frame.Watts[channel]!, frame.Vars[channel]);
        _light = LightOf(frame, _sizes);
        foreach (var other in Enumerable.Range(0, frame.Lines).Where(other => other != channel && CanTell(frame, other)))
        {
            var degrees = Angles(other);
            _others.Add((degrees, Usual(degrees, frame.Vars[other] is not null)));
        }
    }

    private bool IsSingle(double turn) => _frame.Service.Kind == ServiceKind.HighLeg || _frame.IsTwoElement || Math.Abs(turn) == 120;

    public static AngleHistory? Find(GuardFrame frame, VoltageHistory voltages, CurrentSum? sum, int channel, CancellationToken cancellation)
    {
        return CanTell(frame, channel) ? new AngleChain(frame, voltages, sum, channel).Find(cancellation) : null;
    }

    private static bool CanTell(GuardFrame frame, int channel) =>
        frame.Watts[channel] is not null && (frame.Vars[channel] is not null || (frame.Amperes[channel] is not null && frame.Volts[channel] is not null));

    private static double[] Turns(GuardFrame frame) => frame.Service.Kind switch
    {
        ServiceKind.Split or ServiceKind.Single => [0, 180],
        ServiceKind.HighLeg => [0, 180, 90, -90],
        _ => [0, 180, 120, -120, 60, -60],
    };

    private static double[] Sizes(double[] watts, double[]? vars)
    {
        var sizes = new double[watts.Length];
        for (var row = 0; row < sizes.Length; row++)
            sizes[row] = vars is not null ? Math.Sqrt((watts[row] * watts[row]) + (vars[row] * vars[row])) : Math.Abs(watts[row]);
        return sizes;
    }

    /// <summary>Angle of the power in each row, degrees; with watts alone its size, 0 to 180. NaN where there is too little.</summary>
    private double[] Angles(int channel)
    {
        var watts = _frame.Watts[channel]!;
        var vars = _frame.Vars[channel];
        var angles = new double[_frame.Count];
        var sizes = Sizes(watts, vars);

        // Too little against the other phases is the noise of a clamp on nothing.
        var most = Robust.Quantile(sizes, 0.95);
        for (var other = 0; other < 3; other++)
        {
            if (other != channel && _frame.Watts[other] is { } column) most = Math.Max(most, Robust.Quantile(Sizes(column, _frame.Vars[other]), 0.95));
        }

        var least = 0.01 * most;
        for (var row = 0; row < angles.Length; row++)
        {
            var state = _voltages.At(row);
            var hasVoltage = state.Kind is VoltageStateKind.Sound or VoltageStateKind.SupplyNeutralLost
                || (state.Kind == VoltageStateKind.Leads && IsOwnVoltageSound(state, channel));
            if (!hasVoltage || !(sizes[row] > least))
            {
                angles[row] = double.NaN;
            }
            else if (vars is not null)
            {
                angles[row] = Math.Atan2(vars[row], watts[row]) * 180 / Math.PI;
            }
            else
            {
                var element = _frame.IsTwoElement && channel == 2 ? 1 : channel;
                var volts = _frame.Volts[element]![row] * _frame.UnitVolts;
                if (_frame.IsPairs && !_frame.IsTwoElement) volts /= Math.Sqrt(3);
                var apparent = volts * _frame.Amperes[channel]![row];
                angles[row] = apparent > 0 ? Math.Acos(Math.Clamp(watts[row] / apparent, -1, 1)) * 180 / Math.PI : double.NaN;
            }
        }

        return angles;
    }

    private bool IsOwnVoltageSound(VoltageState state, int channel)
    {
        if (state.Leads[3] != 3) return false;
        if (_frame.IsTwoElement) return state.Leads[1] == 1 && state.Leads[channel] == channel;
        if (_frame.Service.IsThreeWire) return false;
        return state.Leads[channel] == channel;
    }

    private AngleHistory Find(CancellationToken cancellation)
    {
        var hasVars = _frame.Vars[_channel] is not null;
        var hasDirections = _sum is not null && _frame.Options.Check.MayExport;
        var standing = hasDirections ? TurnedBack(hasVars) : _degrees;
        var usual = Usual(standing, hasVars);
        if (hasVars && !_frame.IsTwoElement && _frame.Service.Kind != ServiceKind.HighLeg) _modes = Modes(standing);
        var spread = Spread(standing, usual, hasVars);
        var chain = new LinkedChain(_enter, _frame.Count);
        var changes = Robust.Changes(_degrees);
        for (var row = 1; row < changes.Length; row++) changes[row] = Angle.WrapDegrees(changes[row]);
        var stepSpread = Math.Clamp(1.5 * Robust.Deviation(changes), 1, 15);
        if (double.IsNaN(stepSpread)) stepSpread = 10;
        var count = _turns.Length;
        var last = -1;
        var odds = new double[_frame.Count];
        for (var row = 0; row < _frame.Count; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            var says = chain.Says;
            Array.Clear(says);
            if (!double.IsNaN(_degrees[row]))
            {
                for (var turn = 0; turn < _turns.Length; turn++) says[turn] = IsNone(turn, usual, hasVars) ? Never : Say(row, usual, _turns[turn], spread, hasVars);
            }

            if (hasDirections && !double.IsNaN(_degrees[row]))
            {
                // With generation directions are told by the sum of the currents, where there is one: by night too, or a clamp would turn round at nightfall.
                var turned = _sum!.SayTurned(row, _channel);
                for (var turn = 0; turn < _turns.Length; turn++) says[turn] += _turns[turn] is 180 or 60 or -60 ? turned : 0;
            }

            // A change is where the angle leaps by as much: rows that tell nothing for themselves so still tell when.
            var isLinked = last >= 0 && !double.IsNaN(_degrees[row]);
            if (isLinked)
            {
                var change = Angle.WrapDegrees(_degrees[row] - _degrees[last]);
                for (var before = 0; before < count; before++)
                {
                    for (var state = 0; state < count; state++)
                        chain.Links[(before * count) + state] = hasVars
                            ? Step(Angle.WrapDegrees(change - _turns[state] + _turns[before]), stepSpread)
                            : SizeStep(_degrees[last], _degrees[row], _turns[before], _turns[state], stepSpread);
                }

                // Clouds make the angle leap as well.
                if (MayExport(row))
                {
                    for (var link = 0; link < chain.Links.Length; link++) chain.Links[link] *= 0.5;
                }
            }

            if (!double.IsNaN(_degrees[row])) last = row;
            chain.Take(isLinked);
        }

        var history = chain.History();
        var rows = new sbyte[history.Length];
        for (var row = 0; row < rows.Length; row++)
        {
            rows[row] = double.IsNaN(_degrees[row]) ? (sbyte)-1 : (sbyte)history[row];
            if (rows[row] > 0)
                odds[row] = Say(row, usual, _turns[history[row]], spread, hasVars) - Say(row, usual, 0, spread, hasVars);
        }

        return new AngleHistory(_turns, rows, usual, odds) { HasVars = hasVars, Degrees = _degrees };
    }

    /// <summary>What the line carries at the least on each day: capacitors may fail within a recording, or be put in.</summary>
    private static double[] LightOf(GuardFrame frame, double[] sizes)
    {
        var light = new double[sizes.Length];
        for (var row = 0; row < sizes.Length;)
        {
            var (first, day) = (row, frame.From(row).Date);
            while (row < sizes.Length && frame.From(row).Date == day) row++;
            Array.Fill(light, Robust.Quantile(sizes.AsSpan(first, row - first), 0.05), first, row - first);
        }

        return light;
    }

    /// <summary>Where the size of the angle alone is known, a turn that leaves the size as it is is none: 30 degrees less 60 are 30 again.</summary>
    private bool IsNone(int turn, double usual, bool hasVars) =>
        turn > 0 && !hasVars && Math.Abs(Math.Abs(Angle.WrapDegrees(usual + _turns[turn])) - usual) < 12;

    private double Say(int row, double usual, double turn, double spread, bool hasVars)
    {
        double degrees = _degrees[row], density;
        if (hasVars)
        {
            density = Normal(Angle.WrapDegrees(degrees - usual - turn), spread);
            // A clamp on another line reads that line's loads. Motors on the high leg and lights on the others stand far apart.
            if (turn != 0 && _frame.Service.Kind == ServiceKind.HighLeg)
            {
                foreach (var (_, usually) in _others) density = Math.Max(density, 0.5 * Normal(Angle.WrapDegrees(degrees - usually - turn), spread));
            }

            // By night other loads run than by day, each at its own angle, and a turned power is turned from that.
            if (Math.Abs(turn) > 90)
            {
                foreach (var mode in _modes) density = Math.Max(density, OfMode * Normal(Angle.WrapDegrees(degrees - mode - turn), spread));
            }

            // A load may stand anywhere between capacitors and idling motors, for as long as it likes: that is no turn.
            if (Math.Abs(turn) is not (60 or 90) && !_frame.IsTwoElement && Angle.WrapDegrees(degrees - usual - turn) is > -55 and < 65) density = Math.Max(density, 0.02);
            if (turn == 0 && _frame.Service.Kind == ServiceKind.HighLeg && Math.Abs(degrees) < MostOfALoad) density = Math.Max(density, 0.02);
            if (turn == 0 && IsALoads(row, usual, hasVars)) density = 1 / (spread * 2.5066);

            // Where power may flow back, watts turn sign while vars stay, or do as they like: by day angles tell nothing.
            if (MayExport(row)) density = 0.01;
        }
        else
        {
            // The size of the angle only; a lagging load as usual.
            density = Normal(degrees - Math.Abs(Angle.WrapDegrees(usual + turn)), spread);
            // What usually goes to the load may stand at any angle that does; where power usually comes back the same holds of what is turned from that.
            if (turn == (usual < MostOfALoad ? 0 : 180) && degrees < 85) density = Math.Max(density, 0.02);
            if (turn == 0 && IsALoads(row, usual, hasVars)) density = 1 / (spread * 2.5066);
            if (MayExport(row)) density = 0.01;
        }

        return Math.Log(((1 - Wild) * density) + (Wild / 360));
    }

    /// <summary>Where power goes to the load it may stand at any angle, and as steadily as a turned one. Few slips leave it so: what leads by much does so usually, or in all lines together, or while the line
    /// carries least, where capacitors are left on beside few loads. Where two elements or a high leg turn by less than a right angle for one slip, that is asked by its size.</summary>
    private bool IsALoads(int row, double usual, bool hasVars)
    {
        var degrees = _degrees[row];
        if (!(Math.Abs(degrees) < MostOfALoad && Math.Abs(usual) < MostOfALoad) || _frame.IsTwoElement || _frame.Service.Kind == ServiceKind.HighLeg) return false;
        if (hasVars ? usual < -Leading || degrees > -Leading : usual > Leading || degrees < Leading) return true;
        var doAllLead = true;
        foreach (var (others, usually) in _others)
        {
            if (double.IsNaN(others[row])) continue;
            if (Math.Abs(others[row]) > MostOfALoad) return false;
            doAllLead &= hasVars ? others[row] < usually - Together : others[row] > usually + Together;
        }

        return doAllLead || _sizes[row] < MostOfLight * _light[row];
    }

    /// <summary>Of angles whose size alone is known, a turn by half a cycle can be told from one row to the next.</summary>
    private static double SizeStep(double then, double now, double before, double state, double spread) =>
        before == state ? Step(now - then, spread)
            : Math.Abs(before - state) == 180 ? Step(now - (180 - then), spread)
            : Math.Log(1.0 / 180);

    private static double Step(double off, double spread)
    {
        double small = off / spread, large = off / 40;
        return Math.Log((0.95 * 0.375 / spread / Robust.FiveHalves(1 + (small * small / 4))) + (0.05 * 0.375 / 40 / Robust.FiveHalves(1 + (large * large / 4))));
    }

    /// <summary>Generation is mostly sun.</summary>
    private bool MayExport(int row) => _frame.Options.Check.MayExport && _frame.From(row).Hour is >= 5 and < 21;

    private static double Normal(double off, double spread) => Math.Exp(-off * off / (2 * spread * spread)) / (spread * 2.5066);

    /// <summary>The angles as they would stand with every power the right way round, as far as the sum of the currents tells.</summary>
    private double[] TurnedBack(bool hasVars)
    {
        var standing = new double[_degrees.Length];
        for (var row = 0; row < standing.Length; row++)
        {
            var isTurned = !double.IsNaN(_degrees[row]) && _sum!.SayTurned(row, _channel) > 1;
            standing[row] = !isTurned ? _degrees[row] : hasVars ? Angle.WrapDegrees(_degrees[row] + 180) : 180 - _degrees[row];
        }

        return standing;
    }

    /// <summary>The middle of the fullest window of fifty degrees, then the mean within it.</summary>
    private static double Usual(double[] standing, bool hasVars)
    {
        var counts = new double[72];
        foreach (var degrees in standing)
        {
            if (!double.IsNaN(degrees)) counts[Math.Clamp((int)((Angle.WrapDegrees(degrees) + 180) / 5), 0, 71)]++;
        }

        var (best, most) = (0, -1.0);
        for (var start = 0; start < 72; start++)
        {
            double sum = 0;
            for (var bin = 0; bin < 10; bin++) sum += counts[(start + bin) % 72];
            if (sum > most) (best, most) = (start, sum);
        }

        var centre = Angle.WrapDegrees((best * 5) + 25 - 180);
        double total = 0;
        var kept = 0;
        foreach (var degrees in standing)
        {
            if (double.IsNaN(degrees)) continue;
            var off = Angle.WrapDegrees(degrees - centre);
            if (Math.Abs(off) > 30) continue;
            total += off;
            kept++;
        }

        var mean = Angle.WrapDegrees(centre + (kept > 0 ? total / kept : 0));
        return hasVars ? mean : Math.Abs(mean);
    }

    /// <summary>The angles at which loads stand for a tenth of the time and more, the commonest first.</summary>
    private static double[] Modes(double[] standing)
    {
        var known = standing.Count(degrees => !double.IsNaN(degrees));
        var left = standing.Where(degrees => Math.Abs(degrees) < MostOfMode).Order().ToList();
        var modes = new List<double>();
        while (modes.Count < MostModes && left.Count > 0)
        {
            // The fullest window, both ends moving on together.
            var (from, best, most) = (0, 0, 0);
            for (var to = 0; to < left.Count; to++)
            {
                while (left[to] - left[from] > 2 * NearMode) from++;
                if (to - from + 1 > most) (best, most) = (from, to - from + 1);
            }

            if (most < LeastOfMode * known) break;
            var mode = left[best + (most / 2)];
            modes.Add(mode);
            left.RemoveAll(degrees => Math.Abs(degrees - mode) < 1.5 * NearMode);
        }

        return [.. modes];
    }

    private static double Spread(double[] standing, double usual, bool hasVars)
    {
        var offs = new List<double>();
        for (var row = 0; row < standing.Length; row += Math.Max(1, standing.Length / 20000))
        {
            if (double.IsNaN(standing[row])) continue;
            var off = hasVars ? Angle.WrapDegrees(standing[row] - usual) : standing[row] - usual;
            if (Math.Abs(off) < 45) offs.Add(off);
        }

        var deviation = Robust.Deviation([.. offs]);
        return double.IsNaN(deviation) ? 15 : Math.Clamp(1.3 * deviation, 9, 18);
    }
}
