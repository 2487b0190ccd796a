using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Mending.Maps;

/// <summary>Puts the readings of each channel back to the conductors they came from.</summary>
/// <remarks>
/// A channel's complex power is the voltage between its lead and the neutral lead times the conjugate of its clamp's current. With the potentials of
/// the conductors known, the current follows, and with it the power of the line it flowed in: S = S' · E / (U · s). Where lead and clamp belong
/// together the factor is real and the result exact; where not, it rests on the angles between the potentials. Derivation: docs/methods/mending.md.
/// </remarks>
internal sealed class LineMapper
{
    /// <summary>A line below this share of its usual voltage is dead: what is left is pick-up.</summary>
    private const double DeadShare = 0.05;

    /// <summary>Where the currents leave more than this share of one of them over, another conductor carries some: none is told from the others. Clamps of two
    /// percent and two degrees leave four.</summary>
    private const double MostLeftOver = 0.06;

    private const int MostBalanced = 2000;

    private readonly RawSeries _raw;
    private readonly ServiceKind _service;
    private readonly ChannelFlags _flags;
    private readonly Potentials _potentials;
    private readonly HookupMap[] _maps;
    private readonly double _level;
    private readonly Lazy<bool> _isNonactive;
    private readonly Lazy<bool> _isWithoutSign;
    private readonly Phasor?[] _currents = new Phasor?[4];

    public LineMapper(RawSeries raw, ServiceKind service, ChannelFlags flags, HookupTimeline timeline, NominalVoltage? nominal)
    {
        (_raw, _service, _flags) = (raw, service, flags);
        _maps = [.. timeline.Pieces.Select(piece => new HookupMap(piece, raw))];
        Piece = new int[raw.Grid.Count];
        for (int slot = 0, at = 0; slot < raw.Grid.Count; slot++)
        {
            var middle = raw.Grid.From(slot).AddTicks(raw.Grid.IntervalTicks / 2);
            while (at + 1 < _maps.Length && middle >= _maps[at].Piece.To) at++;
            Piece[slot] = at;
        }

        (Ratios, _level, Spread) = LearnVoltages(nominal);
        _potentials = new Potentials(service, raw, Ratios, _level);
        LeftOver = LearnBalance();
        // Asked only where a power is to be turned.
        _isWithoutSign = new(() => raw.Lines == 3 && !raw.IsThreeWire && VarSigns.AreMissing(raw.Watts, raw.Vars));
        _isNonactive = new(() => NonactiveVars.Are(raw, (channel, slot) => _maps.Length > 0 && raw.Grid.Rows[slot] >= 0 && !flags.IsOut[slot] && _maps[Piece[slot]] is { LeadsAreRight: true } map && map.Clamps[channel] == channel && map.Signs[channel] > 0));
    }

    /// <summary>What is left when all currents are added where nothing is wrong, as a share of a line's current, rms; NaN where they were never all known.</summary>
    public double LeftOver { get; }

    /// <summary>The piece of each slot.</summary>
    public int[] Piece { get; }

    public ReadOnlySpan<HookupMap> Maps => _maps;

    /// <summary>Size of each line's voltage over the mean of all, learnt while all leads were on.</summary>
    public double[] Ratios { get; }

    /// <summary>Deviations of the voltages from their learnt ratios, and of the ratios from the service's own, relative, rms: what is taken for the
    /// uncertainty of an angle in radians.</summary>
    public double Spread { get; }

    /// <summary>True while every size that an angle was worked out from was measured.</summary>
    public bool HasAllPairs { get; private set; } = true;

    /// <summary>Watt-hours by line that an error of the angles moves by its radians.</summary>
    public double[] AngleSensitivity { get; } = new double[3];

    /// <summary>Watt-hours by line that rest on the learnt size of a voltage.</summary>
    public double[] SizeSensitivity { get; } = new double[3];

    /// <summary>Maps all slots.</summary>
    public LineSeries Map(CancellationToken cancellation)
    {
        var lines = new LineSeries(_raw.Grid.Count);
        var totals = new TotalMapper(_raw, _flags, _maps, Piece);
        for (var slot = 0; slot < _raw.Grid.Count; slot++)
        {
            if ((slot & 0xFFF) == 0) cancellation.ThrowIfCancellationRequested();
            if (_raw.Grid.Rows[slot] < 0) Miss(lines, slot);
            else if (_raw.IsTotal) totals.Take(slot, lines);
            else if (_maps.Length > 0) Map(slot, _maps[Piece[slot]], lines);
        }

        if (!_raw.IsTotal) BlankEdges(lines);
        return lines;
    }

    private void Miss(LineSeries lines, int slot)
    {
        foreach (var line in _raw.Elements)
        {
            lines.States[line][slot] = PowerState.NeedsShare;
            (lines.LeadOf[line][slot], lines.ClampOf[line][slot]) = (-1, -1);
        }
    }

    private void Map(int slot, HookupMap map, LineSeries lines)
    {
        _potentials.Find(slot, map, lead => !_flags.IsLeadStuck(lead, slot));
        for (var line = 0; line < _raw.Lines; line++) MapVoltage(slot, line, map, lines);
        FindCurrents(slot, map);
        foreach (var line in _raw.Elements) MapPower(slot, line, map, lines);
        if (map.IsStarPoint) lines.StarPointWattHours += StarPoint.WattHours(_raw, lines, slot);
    }

    private void MapVoltage(int slot, int line, HookupMap map, LineSeries lines)
    {
        lines.LeadOf[line][slot] = -1;
        var size = _raw.IsThreeWire
            ? (_potentials.Of[line] - _potentials.Of[(line + 1) % 3]).Magnitude
            : _potentials.Of[line].Magnitude;
        lines.Volts[line][slot] = _raw.Volts[line] is null ? double.NaN : size;
        if (!_potentials.IsKnown[line])
        {
            lines.VoltStates[line][slot] = PowerState.Modelled;
            return;
        }

        for (var lead = 0; lead < _raw.Lines; lead++)
        {
            if (_flags.IsLeadStuck(lead, slot) || !IsLeadOf(lead, line, map)) continue;
            lines.LeadOf[line][slot] = (sbyte)lead;
            break;
        }

        var isOwn = lines.LeadOf[line][slot] == line && (_raw.IsThreeWire || map.Leads[3] == 3);
        lines.VoltStates[line][slot] = isOwn ? PowerState.Measured : PowerState.Mended;
        if (isOwn) lines.Volts[line][slot] = RawSeries.At(_raw.Volts[line], slot);
    }

    // On three wires channel k is lead k against the next.
    private bool IsLeadOf(int lead, int line, HookupMap map)
    {
        if (!_raw.IsThreeWire) return map.Leads[lead] == line || (map.Leads[lead] == 3 && map.Leads[3] == line);
        var (one, other) = (map.Leads[lead], map.Leads[(lead + 1) % 3]);
        return (one == line && other == (line + 1) % 3) || (other == line && one == (line + 1) % 3);
    }

    private void FindCurrents(int slot, HookupMap map)
    {
        Array.Clear(_currents);
        foreach (var element in _raw.Elements)
        {
            var on = map.Clamps[element];
            if (on < 0 || _currents[on] is not null || IsSilent(element, slot) || _flags.IsClipped(element, slot)) continue;
            var (watts, vars) = (RawSeries.At(_raw.Watts[element], slot), RawSeries.At(_raw.Vars[element], slot));
            if (double.IsNaN(watts) || double.IsNaN(vars)) continue;
            if (_potentials.Element(element, map) is not { } across || across.Magnitude < 0.2 * _level) continue;
            _currents[on] = (new Phasor(watts, vars) / across).Conjugate / (map.Signs[element] * _flags.Gain(element, slot));
        }

        if (_raw.IsThreeWire) _currents[3] = Phasor.Zero;
        else if (_currents[3] is null && map.Clamps[3] == 3 && _raw.NeutralDegrees is not null && _raw.VoltageDegrees is not null && map.Leads[0] == 0)
            _currents[3] = Phasor.FromDegrees(RawSeries.At(_raw.Amperes[3], slot) / map.Signs[3], _raw.NeutralDegrees[slot] - _raw.VoltageDegrees[slot]);
    }

    private void MapPower(int slot, int line, HookupMap map, LineSeries lines)
    {
        var channel = ChannelOn(line, slot, map);
        lines.ClampOf[line][slot] = (sbyte)channel;
        if (channel >= 0)
        {
            var scale = map.Signs[channel] * _flags.Gain(channel, slot);
            lines.Scales[line][slot] = scale;
            lines.Amperes[line][slot] = RawSeries.At(_raw.Amperes[channel], slot) / Math.Abs(scale);
            lines.AmpereStates[line][slot] = channel == line && scale == 1 ? PowerState.Measured : PowerState.Mended;
            if (MapOutage(slot, line, channel, scale, lines) || MapDirect(slot, line, channel, scale, map, lines)) return;
        }

        if (MapByKirchhoff(slot, line, lines)) return;
        var isCurrentKnown = channel >= 0 && !_flags.IsClipped(channel, slot) && lines.Amperes[line][slot] >= 0;
        lines.States[line][slot] = isCurrentKnown ? PowerState.NeedsFactor : PowerState.NeedsShare;
    }

    private bool IsSilent(int clamp, int slot) => _flags.IsClampStuck(clamp, slot) || _flags.IsClampLost(clamp, slot);

    private int ChannelOn(int line, int slot, HookupMap map)
    {
        if (map.Clamps[line] == line && !IsSilent(line, slot)) return line;
        foreach (var element in _raw.Elements)
        {
            if (map.Clamps[element] == line && !IsSilent(element, slot)) return element;
        }

        return -1;
    }

    private bool MapDirect(int slot, int line, int channel, double scale, HookupMap map, LineSeries lines)
    {
        var (watts, vars) = (RawSeries.At(_raw.Watts[channel], slot), RawSeries.At(_raw.Vars[channel], slot));
        if (double.IsNaN(watts)) return false;
        // Against the inputs' star point each line's power strays, and the sum does not: it is left as it was shown.
        var isOwn = channel == line && (map.LeadsAreRight || map.IsStarPoint);
        var isReal = isOwn;
        var factor = new Phasor(1 / scale, 0);
        if (!isOwn)
        {
            if (_potentials.Element(channel, map) is not { } across || across.Magnitude < 0.2 * _level) return false;
            var belongs = _potentials.True(line);
            factor = belongs / across / scale;
            isReal = Math.Abs(factor.Imaginary) < 1e-9 * factor.Magnitude;
            if (isReal && Math.Abs(Math.Abs(factor.Real * scale) - 1) < 1e-9) factor = new Phasor(Math.Sign(factor.Real * scale) / scale, 0);
            // Without vars, or with such as hold distortion, no power is turned.
            if (Math.Abs(factor.Imaginary) > 0.02 * factor.Magnitude && (double.IsNaN(vars) || _isNonactive.Value)) return false;
        }

        // Vars without a sign are those of a load: of the two ways the one that carries more.
        if (!isReal && _isWithoutSign.Value && factor.Imaginary * vars > 0) vars = -vars;
        var known = double.IsNaN(vars) ? 0 : vars;
        lines.Watts[line][slot] = (factor.Real * watts) - (isReal ? 0 : factor.Imaginary * known);
        lines.Vars[line][slot] = double.IsNaN(vars) ? double.NaN : (factor.Real * vars) + (isReal ? 0 : factor.Imaginary * watts);
        var isClipped = _flags.IsClipped(channel, slot);
        lines.ClipShares[line][slot] = _flags.ClipShare(channel, slot);
        (lines.CutExcess[line][slot], lines.CutErrors[line][slot]) = _flags.CutExcess(channel, slot);
        lines.States[line][slot] = isClipped ? PowerState.AtLeast : isOwn && scale == 1 && map.LeadsAreRight ? PowerState.Measured : PowerState.Mended;
        if (!isReal) AngleSensitivity[line] += known == 0 ? 0.3 * Math.Abs(lines.Watts[line][slot]) * _raw.Grid.Hours : lines.Vars[line][slot] * _raw.Grid.Hours;
        // Where no lead is on the line its own voltage is the learnt one, half a turn apart or not.
        var isLearnt = !_potentials.IsKnown[line] || (!(_potentials.IsKnown[0] && _potentials.IsKnown[1] && _potentials.IsKnown[2]) && (!isReal || channel != line));
        if (!isOwn && isLearnt)
        {
            SizeSensitivity[line] += lines.Watts[line][slot] * _raw.Grid.Hours;
            HasAllPairs = false;
        }

        return true;
    }

    /// <summary>Where the supply is gone and no current was read, no power flows, whatever else is wrong with the leads.</summary>
    private bool MapOutage(int slot, int line, int channel, double scale, LineSeries lines)
    {
        if (!_flags.IsOut[slot] || lines.Amperes[line][slot] != 0 || _potentials.True(line).Magnitude > DeadShare * _level) return false;
        (lines.Watts[line][slot], lines.Vars[line][slot]) = (0, 0);
        lines.States[line][slot] = channel == line && scale == 1 ? PowerState.Measured : PowerState.Mended;
        return true;
    }

    // The first law is held against the good part of the recording before anything rests on it.
    private double LearnBalance()
    {
        if (_raw.IsTotal || _raw.Elements.Length < 3) return double.NaN;
        double left = 0, flowed = 0;
        var stride = Math.Max(1, _raw.Grid.Count / MostBalanced);
        for (var slot = 0; slot < _raw.Grid.Count && _maps.Length > 0; slot += stride)
        {
            var map = _maps[Piece[slot]];
            if (_raw.Grid.Rows[slot] < 0 || _flags.IsOut[slot] || !map.LeadsAreRight || !map.ClampsAreRight) continue;
            _potentials.Find(slot, map, lead => !_flags.IsLeadStuck(lead, slot));
            FindCurrents(slot, map);
            if (_currents[0] is not { } one || _currents[1] is not { } two || _currents[2] is not { } three || _currents[3] is not { } neutral) continue;
            left += (one + two + three + neutral).SquaredMagnitude;
            flowed += (one.SquaredMagnitude + two.SquaredMagnitude + three.SquaredMagnitude) / 3;
        }

        return flowed > 0 ? Math.Sqrt(left / flowed) : double.NaN;
    }

    private bool MapByKirchhoff(int slot, int line, LineSeries lines)
    {
        if (LeftOver > MostLeftOver) return false;
        var sum = Phasor.Zero;
        for (var conductor = 0; conductor < 4; conductor++)
        {
            if (conductor == line || (conductor < 3 && conductor >= _raw.Lines)) continue;
            if (_currents[conductor] is not { } current) return false;
            sum += current;
        }

        if (!double.IsFinite(sum.Real)) return false;
        var power = _potentials.True(line) * (-sum).Conjugate;
        (lines.Watts[line][slot], lines.Vars[line][slot]) = (power.Real, power.Imaginary);
        (lines.Amperes[line][slot], lines.AmpereStates[line][slot]) = (sum.Magnitude, PowerState.Modelled);
        lines.States[line][slot] = PowerState.Mended;
        (lines.ClampOf[line][slot], lines.Scales[line][slot]) = (-1, double.NaN);
        AngleSensitivity[line] += (power.Imaginary + (0.3 * power.Real)) * _raw.Grid.Hours;
        if (_potentials.IsKnown[0] && _potentials.IsKnown[1] && _potentials.IsKnown[2]) return true;
        SizeSensitivity[line] += power.Real * _raw.Grid.Hours;
        HasAllPairs = false;
        return true;
    }

    /// <summary>The interval in which a lead or clamp moved mixes both hook-ups: what was touched in it is nobody's. A current whose clamp stayed where it was, turned or not, is known.</summary>
    private void BlankEdges(LineSeries lines)
    {
        for (var slot = 1; slot < _raw.Grid.Count; slot++)
        {
            if (Piece[slot] == Piece[slot - 1]) continue;
            var (before, after) = (_maps[Piece[slot - 1]], _maps[Piece[slot]]);
            for (var line = 0; line < _raw.Lines; line++)
            {
                if (!HasMovedLead(before, after, line)) continue;
                BlankVoltage(lines, line, slot - 1);
                BlankVoltage(lines, line, slot);
            }

            foreach (var line in _raw.Elements)
            {
                var isTouched = _raw.Elements.Any(channel => (before.Clamps[channel] == line || after.Clamps[channel] == line) && !before.IsSame(after, channel, _raw.IsThreeWire));
                if (!isTouched) continue;
                var isCurrentKnown = _raw.Elements.Any(channel => before.Clamps[channel] == line && after.Clamps[channel] == line && Math.Abs(before.Signs[channel]) == Math.Abs(after.Signs[channel]));
                Blank(lines, line, slot - 1, isCurrentKnown);
                Blank(lines, line, slot, isCurrentKnown);
            }
        }
    }

    private bool HasMovedLead(HookupMap before, HookupMap after, int line)
    {
        if (before.Leads[3] != after.Leads[3]) return true;
        for (var lead = 0; lead < _raw.Lines; lead++)
        {
            if (before.Leads[lead] != after.Leads[lead] && (_raw.IsThreeWire || before.Leads[lead] == line || after.Leads[lead] == line)) return true;
        }

        return false;
    }

    private void BlankVoltage(LineSeries lines, int line, int slot)
    {
        if (_raw.Volts[line] is null || _raw.Grid.Rows[slot] < 0 || lines.VoltStates[line][slot] > PowerState.Mended) return;
        var (sum, count) = (0.0, 0);
        for (var other = 0; other < _raw.Lines; other++)
        {
            if (other == line || lines.VoltStates[other][slot] > PowerState.Mended || !(lines.Volts[other][slot] > 0)) continue;
            sum += lines.Volts[other][slot] / Ratios[other];
            count++;
        }

        lines.Volts[line][slot] = Ratios[line] * (count > 0 ? sum / count : _level * (_raw.IsThreeWire ? Math.Sqrt(3) : 1));
        lines.VoltStates[line][slot] = PowerState.Modelled;
        lines.LeadOf[line][slot] = -1;
    }

    private static void Blank(LineSeries lines, int line, int slot, bool isCurrentKnown)
    {
        if (lines.States[line][slot] >= PowerState.NeedsFactor) return;
        (lines.Watts[line][slot], lines.Vars[line][slot]) = (double.NaN, double.NaN);
        lines.States[line][slot] = isCurrentKnown && lines.Amperes[line][slot] >= 0 && lines.ClampOf[line][slot] >= 0 && lines.ClipShares[line][slot] == 0 ? PowerState.NeedsFactor : PowerState.NeedsShare;
    }

    private (double[] Ratios, double Level, double Spread) LearnVoltages(NominalVoltage? nominal)
    {
        var shape = new double[3];
        for (var line = 0; line < 3; line++) shape[line] = _raw.IsThreeWire ? 1 : Potentials.Shape(_service, line, false).Magnitude;
        var sums = new double[3];
        var (squares, level) = (0.0, 0.0);
        var count = 0;
        for (var slot = 0; slot < _raw.Grid.Count && _maps.Length > 0; slot++)
        {
            var map = _maps[Piece[slot]];
            if (_raw.Grid.Rows[slot] < 0 || !map.LeadsAreRight || _flags.IsOut[slot]) continue;
            var mean = 0.0;
            for (var line = 0; line < _raw.Lines; line++) mean += _flags.IsLeadStuck(line, slot) ? double.NaN : RawSeries.At(_raw.Volts[line], slot) / shape[line] / _raw.Lines;
            if (!(mean > 0)) continue;
            for (var line = 0; line < _raw.Lines; line++)
            {
                var ratio = _raw.Volts[line]![slot] / mean;
                sums[line] += ratio;
                squares += Square((ratio / shape[line]) - 1) / _raw.Lines;
            }

            level += mean;
            count++;
        }

        // What the site had while all leads were on says more than a nameplate.
        if (count < 3) return (shape, nominal?.LineToNeutralVolts ?? Median(), 0.01);
        level /= count * (_raw.IsThreeWire ? Math.Sqrt(3) : 1);
        return ([.. sums.Select((sum, line) => line < _raw.Lines ? sum / count : shape[line])], level, Math.Max(0.001, Math.Sqrt(squares / count)));
    }

    private double Median()
    {
        var all = _raw.Volts.Where(column => column is not null).SelectMany(column => column!.Where(value => value > 20)).Order().ToArray();
        var middle = all.Length == 0 ? 230 : all[all.Length / 2];
        return _raw.IsThreeWire ? middle / Math.Sqrt(3) : middle;
    }

    private static double Square(double value) => value * value;
}
