using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Tables;

/// <summary>Makes the mended table: the recording's own columns, each value with its standing, and rows for the intervals that were missing.</summary>
internal sealed class TableMaker
{
    private readonly IntervalLog _log;
    private readonly RawSeries _raw;
    private readonly LineSeries _lines;
    private readonly LineMapper _mapper;
    private readonly ChannelFlags _flags;
    private readonly int _count;

    public TableMaker(IntervalLog log, RawSeries raw, LineSeries lines, LineMapper mapper, ChannelFlags flags)
    {
        (_log, _raw, _lines, _mapper, _flags) = (log, raw, lines, mapper, flags);
        _count = raw.Grid.Count;
    }

    public (IntervalLog Log, ImmutableDictionary<int, ReadOnlyMemory<Standing>> Standings) Make()
    {
        var values = new double[_log.Columns.Length][];
        var standings = ImmutableDictionary.CreateBuilder<int, ReadOnlyMemory<Standing>>();
        for (var index = 0; index < values.Length; index++)
        {
            values[index] = new double[_count];
            var standing = new Standing[_count];
            Fill(index, values[index], standing);
            standings.Add(index, standing);
        }

        var log = new IntervalLog(_log.Columns, _raw.Grid.Clocks.ToArray(), values, _log.IntervalSeconds);
        return (log, standings.ToImmutable());
    }

    private void Fill(int index, double[] values, Standing[] standings)
    {
        var column = _log.Columns[index];
        var line = LineOf(column);
        if (column.Quantity is LogQuantity.ActiveEnergy or LogQuantity.ReactiveEnergy or LogQuantity.ApparentEnergy)
        {
            FillEnergy(index, column, line, values, standings);
            return;
        }

        for (var slot = 0; slot < _count; slot++)
        {
            var original = _raw.Grid.Rows[slot] >= 0 ? _log.Values(index)[_raw.Grid.Rows[slot]] : double.NaN;
            (values[slot], standings[slot]) = Value(column, line, slot, original);
            if (double.IsNaN(values[slot])) standings[slot] = Standing.Lost;
        }
    }

    private int LineOf(LogColumn column) => column.Place switch
    {
        LogPlace.Phase1 or LogPlace.Pair12 => 0,
        LogPlace.Phase2 or LogPlace.Pair23 => 1,
        LogPlace.Phase3 or LogPlace.Pair31 => 2,
        LogPlace.Whole when _raw.Lines == 1 || _raw.IsTotal => 0,
        _ => -1,
    };

    private (double Value, Standing Standing) Value(LogColumn column, int line, int slot, double original)
    {
        var isMain = column.Statistic is LogStatistic.Mean or LogStatistic.Instant;
        var isPair = column.Place is LogPlace.Pair12 or LogPlace.Pair23 or LogPlace.Pair31;
        switch (column.Quantity)
        {
            case LogQuantity.Voltage when isMain && line >= 0 && isPair == _raw.IsThreeWire && !_raw.IsTotal:
                return Of(_lines.Volts[line][slot], _lines.VoltStates[line][slot]);
            case LogQuantity.Voltage or LogQuantity.VoltageDistortion or LogQuantity.VoltageHarmonic or LogQuantity.ShortTermFlicker or LogQuantity.LongTermFlicker
                or LogQuantity.VoltageCrest or LogQuantity.VoltageAngle or LogQuantity.VoltageUnbalance or LogQuantity.ZeroSequenceUnbalance:
                return OfVoltage(column, line, slot, original);
            case LogQuantity.Current when isMain && line is >= 0 && !_raw.IsTotal && _raw.Elements.Contains(line):
                return OfCurrent(line, slot);
            case LogQuantity.Current or LogQuantity.CurrentDistortion or LogQuantity.CurrentHarmonic or LogQuantity.CurrentCrest or LogQuantity.KFactor
                or LogQuantity.CurrentAngle or LogQuantity.CurrentUnbalance:
                return OfClamp(column, line, slot, original);
            case LogQuantity.ActivePower when isMain && IsElement(column, line):
                return Of(_lines.Watts[line][slot], _lines.States[line][slot]);
            case LogQuantity.ReactivePower when isMain && IsElement(column, line):
                return _lines.States[line][slot] == PowerState.Modelled ? (double.NaN, Standing.Lost) : Of(_lines.Vars[line][slot], _lines.States[line][slot]);
            case LogQuantity.ActivePower or LogQuantity.ReactivePower or LogQuantity.ApparentPower or LogQuantity.PowerFactor or LogQuantity.DisplacementFactor:
                return OfPower(column, line, slot, original, isMain);
            default:
                return (original, Standing.Measured);
        }
    }

    private bool IsElement(LogColumn column, int line) => line >= 0 && (_raw.IsTotal ? column.Place == LogPlace.Whole : _raw.HasPhases && _raw.Elements.Contains(line));

    private (double, Standing) OfVoltage(LogColumn column, int line, int slot, double original)
    {
        if (_mapper.Maps.IsEmpty || _raw.Grid.Rows[slot] < 0) return (original, Standing.Measured);
        var map = _mapper.Maps[_mapper.Piece[slot]];
        if (IsOfAllLines(column)) line = -1;
        if (map.LeadsAreRight && (line < 0 || LeadOn(line, slot, map) == line)) return (original, Standing.Measured);
        if (line < 0 || _raw.IsThreeWire || map.Leads[3] != 3 || column.Place >= LogPlace.Pair12) return (double.NaN, Standing.Lost);
        var lead = LeadOn(line, slot, map);
        if (lead < 0 || column.Quantity == LogQuantity.VoltageAngle) return (double.NaN, Standing.Lost);
        // The same column of the lead that stood on this line.
        return lead == line ? (original, Standing.Measured) : (OfChannel(column, lead, slot), Standing.Mended);
    }

    // Where only the total was written, its element stands for all lines.
    private bool IsOfAllLines(LogColumn column) => column.Place == LogPlace.Whole && _raw.Lines > 1;

    private int LeadOn(int line, int slot, HookupMap map)
    {
        if (!_raw.IsTotal) return _lines.LeadOf[line][slot];
        var lead = Array.IndexOf(map.Leads, line, 0, _raw.Lines);
        return lead >= 0 && _flags.IsLeadStuck(lead, slot) ? -1 : lead;
    }

    // The clamp that shows a line's current, and by what it must be divided. Where only the total was written none is put together from others.
    private (int Clamp, double Scale) ClampOn(int line, int slot, HookupMap map)
    {
        if (!_raw.IsTotal) return (_lines.ClampOf[line][slot], _lines.Scales[line][slot]);
        var clamp = Array.IndexOf(map.Clamps, line, 0, 3);
        return clamp < 0 || _flags.IsClampStuck(clamp, slot) || _flags.Gain(clamp, slot) < 1 || _flags.ClipShare(clamp, slot) >= 1 ? (-1, 1) : (clamp, map.Signs[clamp]);
    }

    private (double, Standing) OfCurrent(int line, int slot)
    {
        // At the end of its range a clamp shows less than there was; nobody knows by how much.
        if (_lines.ClipShares[line][slot] >= 1) return (double.NaN, Standing.Lost);
        if (_lines.ClampOf[line][slot] >= 0 && _lines.States[line][slot] != PowerState.AtLeast) return Of(_lines.Amperes[line][slot], _lines.AmpereStates[line][slot]);
        return double.IsNaN(_lines.Amperes[line][slot]) ? (double.NaN, Standing.Lost) : (_lines.Amperes[line][slot], Standing.Modelled);
    }

    private (double, Standing) OfClamp(LogColumn column, int line, int slot, double original)
    {
        if (_mapper.Maps.IsEmpty || _raw.Grid.Rows[slot] < 0 || column.Place == LogPlace.Neutral) return (original, Standing.Measured);
        var map = _mapper.Maps[_mapper.Piece[slot]];
        var clamps = _raw.IsTotal ? _raw.TotalClamps : _raw.Elements;
        if (line < 0 || IsOfAllLines(column) || !clamps.Contains(line))
        {
            var isRight = clamps.All(element => ClampOn(element, slot, map) is var (on, by) && on == element && by == 1 && _lines.ClipShares[element][slot] < 1);
            return isRight ? (original, Standing.Measured) : (double.NaN, Standing.Lost);
        }

        var (clamp, scale) = ClampOn(line, slot, map);
        if (clamp < 0 || _lines.ClipShares[line][slot] >= 1) return (double.NaN, Standing.Lost);
        // A size knows no direction.
        if (clamp == line && (_raw.IsTotal && column.Quantity == LogQuantity.Current ? Math.Abs(scale) : scale) == 1) return (original, Standing.Measured);
        if (column.Quantity == LogQuantity.CurrentAngle) return (double.NaN, Standing.Lost);
        var value = clamp == line ? original : OfChannel(column, clamp, slot);
        return (column.Quantity == LogQuantity.Current ? value / Math.Abs(scale) : value, Standing.Mended);
    }

    private (double, Standing) OfPower(LogColumn column, int line, int slot, double original, bool isMain)
    {
        var elements = line >= 0 && !_raw.IsTotal ? [line] : _raw.Elements;
        var state = PowerState.Measured;
        double watts = 0, vars = 0, product = 0;
        foreach (var element in elements)
        {
            if (!_raw.HasPower || !_raw.Elements.Contains(element)) return (original, Standing.Measured);
            var own = _lines.States[element][slot];
            if (own > state) state = own;
            watts += _lines.Watts[element][slot];
            vars += _lines.Vars[element][slot];
            product += _lines.Volts[element][slot] * _lines.Amperes[element][slot] / (_raw.IsThreeWire && _raw.Elements.Length == 3 ? Math.Sqrt(3) : 1);
        }

        if (state == PowerState.Measured) return (original, Standing.Measured);
        if (!isMain) return (double.NaN, Standing.Lost);
        var isModelled = state > PowerState.Mended;
        return column.Quantity switch
        {
            LogQuantity.ActivePower => (watts, isModelled ? Standing.Modelled : Standing.Mended),
            LogQuantity.ReactivePower when !isModelled => (vars, Standing.Mended),
            LogQuantity.ApparentPower when !isModelled => (line >= 0 ? product : Math.Sqrt((watts * watts) + (vars * vars)), Standing.Mended),
            LogQuantity.PowerFactor when !isModelled && line >= 0 && product > 0 => (Math.Clamp(watts / product, -1, 1), Standing.Mended),
            LogQuantity.DisplacementFactor when !isModelled => (watts / Math.Sqrt((watts * watts) + (vars * vars)), Standing.Mended),
            _ => (double.NaN, Standing.Lost),
        };
    }

    private void FillEnergy(int index, LogColumn column, int line, double[] values, Standing[] standings)
    {
        var isActive = column.Quantity == LogQuantity.ActiveEnergy;
        int[] elements = line >= 0 && !_raw.IsTotal ? [line] : _raw.Elements;
        var isKnown = isActive && _raw.HasPower && elements.All(element => _raw.Elements.Contains(element));
        var worst = Standing.Measured;
        var stand = double.NaN;
        var last = double.NaN;
        for (var slot = 0; slot < _count; slot++)
        {
            var original = _raw.Grid.Rows[slot] >= 0 ? _log.Values(index)[_raw.Grid.Rows[slot]] : double.NaN;
            var (amount, standing) = (0.0, double.IsNaN(original) ? Standing.Lost : Standing.Measured);
            foreach (var element in elements)
            {
                if (!isKnown) continue;
                amount += (column.IsExport ? Math.Max(0, -_lines.Watts[element][slot]) : _lines.Watts[element][slot]) * _raw.Grid.Hours;
                var own = StandingOf(_lines.States[element][slot]);
                if (own > standing || standing == Standing.Lost) standing = own;
            }

            var isTouched = standing is Standing.Mended or Standing.Modelled || _raw.Grid.Rows[slot] < 0;
            if (column.Statistic == LogStatistic.Counter)
            {
                // A counter goes on from its first stand by the mended energy of each interval; what it rests on stays with it.
                var step = original - last;
                var isStep = !isTouched && step >= 0 && double.IsFinite(step) && (slot == 0 || _raw.Grid.Rows[slot - 1] >= 0);
                stand = double.IsNaN(stand) ? original : stand + (isStep ? step : isKnown ? amount : double.NaN);
                last = original;
                if (isTouched && (standing > worst)) worst = standing;
                (values[slot], standings[slot]) = (stand, double.IsNaN(stand) ? Standing.Lost : worst);
                continue;
            }

            values[slot] = !isTouched ? original : isKnown ? amount : double.NaN;
            standings[slot] = double.IsNaN(values[slot]) ? Standing.Lost : standing;
        }
    }

    // The value that another channel has in the same kind of column.
    private double OfChannel(LogColumn column, int channel, int slot)
    {
        var place = LogPlace.Phase1 + channel;
        for (var index = 0; index < _log.Columns.Length; index++)
        {
            var other = _log.Columns[index];
            if (other.Quantity == column.Quantity && other.Place == place && other.Statistic == column.Statistic && other.Order == column.Order && other.IsExport == column.IsExport)
                return _log.Values(index)[_raw.Grid.Rows[slot]];
        }

        return double.NaN;
    }

    private static (double, Standing) Of(double value, PowerState state) => double.IsNaN(value) ? (value, Standing.Lost) : (value, StandingOf(state));

    private static Standing StandingOf(PowerState state) => state switch
    {
        PowerState.Measured => Standing.Measured,
        PowerState.Mended => Standing.Mended,
        _ => Standing.Modelled,
    };
}
