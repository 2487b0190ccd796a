using System.Collections.Immutable;
using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>What a <see cref="PlainWeek"/> has happen to it.</summary>
public enum PlainMishap
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>A lead in the air.</summary>
    LeadOff,

    /// <summary>A lead on the neutral.</summary>
    LeadOnNeutral,

    /// <summary>Two leads exchanged.</summary>
    LeadsExchanged,

    /// <summary>Two leads on one line.</summary>
    LeadMoved,

    /// <summary>The neutral lead exchanged with a line's.</summary>
    NeutralExchanged,

    /// <summary>A clamp turned round.</summary>
    ClampReversed,

    /// <summary>Two clamps exchanged.</summary>
    ClampsExchanged,

    /// <summary>Three clamps rotated.</summary>
    ClampsRotated,

    /// <summary>Two clamps on one line.</summary>
    ClampMoved,

    /// <summary>A clamp off.</summary>
    ClampOff,

    /// <summary>A clamp that opens over a day or more.</summary>
    ClampOpening,

    /// <summary>Ten times too much or too little.</summary>
    RatioOfTen,

    /// <summary>Twice too much or half.</summary>
    RatioOfTwo,

    /// <summary>Currents cut at a limit.</summary>
    OverRange,

    /// <summary>One column that repeats.</summary>
    Stuck,

    /// <summary>A current that repeats, with its powers.</summary>
    StuckChannel,

    /// <summary>Whole rows that repeat.</summary>
    StuckAll,

    /// <summary>Rows that are missing.</summary>
    RowsMissing,

    /// <summary>Rows without values.</summary>
    RowsBlank,

    /// <summary>No supply.</summary>
    Outage,

    /// <summary>One line of the supply gone.</summary>
    LineLost,

    /// <summary>The clock set forward by an hour or an odd time.</summary>
    ClockForward,
}

/// <summary>What the guard should say of a <see cref="PlainWeek"/>.</summary>
/// <param name="Kind">Kind.</param>
/// <param name="Leads">Leads.</param>
/// <param name="Clamps">Clamps.</param>
/// <param name="From">Start.</param>
/// <param name="To">End.</param>
/// <param name="IsGradual">True where no one can date the edges.</param>
internal sealed record PlainTruth(SpanKind Kind, Lead[] Leads, Clamp[] Clamps, DateTime From, DateTime To, bool IsGradual)
{
    /// <summary>Another kind that reads the same.</summary>
    public SpanKind? Or { get; init; }
}

/// <summary>
/// Weeks as plain as they can be made: voltages are nominal with a little noise and do not answer to any load, currents follow a curve of the day, power factors stand still.
/// No relation holds in them but those of the angles, so that nothing may be named because a voltage failed to answer, and what can be told must be told without it.
/// </summary>
internal sealed class PlainWeek
{
    private readonly Random _random;
    private readonly int _rows;
    private readonly int _lines;
    private readonly int _shape;
    private readonly bool _isBlended;
    private readonly bool _isThreeWire;
    private readonly double _voltNoise;
    private readonly double _ampereNoise;
    private readonly double _common;
    private readonly double _ohms;
    private readonly double _factorNoise;
    private readonly double[] _size = new double[3];
    private readonly double[] _lag = new double[3];
    private readonly double[] _offset = new double[3];
    private readonly double[] _hours = new double[3];
    private readonly double[] _walk = new double[3];
    private readonly double[] _step = new double[3];
    private readonly int _quantum;
    private readonly int _columns;
    private readonly List<Happening> _happenings = [];
    private readonly List<PlainTruth> _truths = [];

    public PlainWeek(int seed, PlainMishap? only = null)
    {
        _random = new Random(seed);
        (Service, var nominal) = Pick([
            (ServiceKind.Wye, "230/400"), (ServiceKind.Wye, "230/400"), (ServiceKind.Wye, "120/208"), (ServiceKind.Wye, "277/480"), (ServiceKind.Delta, "480"),
            (ServiceKind.DeltaTwoClamp, "480"), (ServiceKind.Split, "120/240"), (ServiceKind.Single, "230")]);
        if (!NominalVoltage.TryParse(nominal, Service, out var parsed)) throw new InvalidOperationException(nominal);
        Nominal = parsed!;
        _lines = Service switch { ServiceKind.Single => 1, ServiceKind.Split => 2, _ => 3 };
        _isThreeWire = Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;
        (IntervalSeconds, var hours) = Pick([(600, 168.0), (600, 168), (600, 168), (600, 72), (900, 168), (300, 96), (60, 168), (60, 24), (1, 2)]);
        _rows = (int)(hours * 3600 / IntervalSeconds);
        _shape = _random.Next(8);
        _isBlended = _random.Next(3) == 0;
        _voltNoise = Pick([0, 0.0004, 0.001, 0.002, 0.005]);
        _common = Pick([0, 0.002, 0.01]);
        _ohms = Pick([0, 0, 0, 0.02]);
        _ampereNoise = Pick([0, 0.01, 0.03, 0.1]);
        _factorNoise = Pick([0, 0, 0.01]);
        _quantum = _random.Next(3);
        _columns = Pick([0, 0, 0, 1, 2, 3]);
        var size = Pick([8.0, 25, 80, 300]);
        var (lag, isAlike) = (Math.Acos(0.8 + (0.19 * _random.NextDouble())), _random.Next(3) == 0);
        for (var line = 0; line < 3; line++)
        {
            _size[line] = size * (isAlike ? 1 : 0.6 + (0.8 * _random.NextDouble()));
            _lag[line] = isAlike ? lag : Math.Acos(0.8 + (0.19 * _random.NextDouble()));
            _offset[line] = 0.003 * Gauss();
            _hours[line] = isAlike ? 0 : 2 * Gauss();
            if (Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp && _random.Next(2) == 0) (_size[line], _lag[line]) = (size, lag);
        }

        Mishap = only ?? Draw();
        if (!CanHave(Mishap)) Mishap = PlainMishap.None;
        Happen(Mishap);
        if (only is null && Mishap != PlainMishap.None && _random.Next(5) == 0) Happen(Pick([PlainMishap.Outage, PlainMishap.RowsMissing, PlainMishap.ClampReversed, PlainMishap.LeadOff]), true);
        Log = Make();
    }

    public static DateTime Start { get; } = new(2025, 3, 3);

    public ServiceKind Service { get; }

    public NominalVoltage Nominal { get; }

    public int IntervalSeconds { get; }

    public PlainMishap Mishap { get; }

    public IntervalLog Log { get; }

    /// <summary>What the same recorder, rightly hung and never off, would have counted: watt-hours of all its watts, rounded as it rounds. What the supply did is in it.</summary>
    public double TrueWattHours { get; private set; }

    public IReadOnlyList<PlainTruth> Truths => _truths;

    public GuardOptions Options => new() { Service = Service, Nominal = Nominal };

    /// <summary>Which of volts, amperes, watts, vars, volt-amperes and power factors there are.</summary>
    public string Columns => _columns switch { 1 => "VIPQS", 2 => "VIP", 3 => "VI", _ => "VIPQ" };

    public string Words => FormattableString.Invariant($"{Service} {Nominal} {IntervalSeconds} s x {_rows} {Columns} shape {_shape} noise V {_voltNoise} I {_ampereNoise} common {_common} z {_ohms} step {_quantum} {(_isBlended ? "blended" : "")} {string.Join("+", _happenings.Select(each => FormattableString.Invariant($"{each.Mishap} {each.One}{each.Other} size {each.Size:0.###} {Start.AddSeconds(each.From):ddd HH:mm:ss}-{Start.AddSeconds(each.To):ddd HH:mm:ss}")))}");

    private bool HasAngles => _columns < 2;

    private PlainMishap Draw() => _random.Next(4) == 0 ? PlainMishap.None : Pick(Enum.GetValues<PlainMishap>());

    private bool CanHave(PlainMishap mishap) => (_shape != 4 || IntervalSeconds > 1 || mishap is PlainMishap.RowsMissing or PlainMishap.RowsBlank or PlainMishap.LeadOff) && mishap switch
    {
        PlainMishap.LeadOnNeutral => !_isThreeWire && _lines > 1,
        PlainMishap.NeutralExchanged => !_isThreeWire && _lines > 1,
        PlainMishap.LeadsExchanged => HasAngles && _lines > 1,
        PlainMishap.LeadMoved => _lines > 1 && (_isThreeWire || HasAngles),
        PlainMishap.ClampReversed => _columns < 3,
        PlainMishap.ClampsExchanged => HasAngles && _lines > 1,
        PlainMishap.ClampMoved => HasAngles && _lines == 3,
        PlainMishap.ClampsRotated => HasAngles && _lines == 3 && Service != ServiceKind.DeltaTwoClamp,
        PlainMishap.ClampOpening or PlainMishap.RatioOfTwo => _lines > 1,
        PlainMishap.LineLost => _lines > 1,
        PlainMishap.ClampOff => _shape != 4,
        // What stands still by itself shows nothing of it.
        PlainMishap.Stuck => _voltNoise > 0.0005 && _ampereNoise > 0.02 && _shape != 4,
        PlainMishap.StuckChannel => _ampereNoise > 0.02 && _shape != 4,
        PlainMishap.StuckAll => _voltNoise > 0.0005 && _ampereNoise > 0.02,
        PlainMishap.OverRange => _ampereNoise > 0.005 || _shape is 5 or 6,
        _ => true,
    };

    private void Happen(PlainMishap mishap, bool isSecond = false)
    {
        if (mishap == PlainMishap.None || !CanHave(mishap)) return;
        var total = (double)_rows * IntervalSeconds;
        var length = mishap switch
        {
            PlainMishap.ClampOpening => total * (0.3 + (0.4 * _random.NextDouble())),
            PlainMishap.Outage or PlainMishap.LineLost => Math.Max(3 * IntervalSeconds, total * 0.004 * (1 + (8 * _random.NextDouble()))),
            PlainMishap.ClockForward => Pick([3600, 3600, 7200, 1234, 437]),
            PlainMishap.Stuck or PlainMishap.StuckChannel or PlainMishap.StuckAll => Math.Max(14 * IntervalSeconds, total * 0.05 * (1 + _random.NextDouble())),
            _ => Math.Max(8 * IntervalSeconds, total * Pick([0.02, 0.05, 0.15, 0.3])),
        };
        var isSpan = mishap is not (PlainMishap.RowsMissing or PlainMishap.RowsBlank or PlainMishap.ClockForward or PlainMishap.Outage or PlainMishap.LineLost or PlainMishap.ClampOpening);
        var from = (0.06 + ((0.88 - (length / total)) * _random.NextDouble())) * total;
        var place = isSpan && mishap is not (PlainMishap.Stuck or PlainMishap.StuckChannel or PlainMishap.StuckAll or PlainMishap.RatioOfTwo or PlainMishap.RatioOfTen) ? _random.Next(7) : 2;
        if (isSecond)
        {
            // Behind or before the first.
            var first = _happenings[0];
            length = Math.Min(length, 0.05 * total);
            if (first.From > 0.25 * total) from = 0.1 * total;
            else if (first.To < 0.75 * total) from = 0.85 * total;
            else return;
        }
        else if (place == 0 || (mishap == PlainMishap.OverRange && _random.Next(2) == 0))
        {
            from = 0;
            if (mishap == PlainMishap.OverRange) length = total;
        }
        else if (place == 1)
        {
            from = total - length;
        }

        if (mishap == PlainMishap.ClockForward) from = Math.Round(from / IntervalSeconds) * IntervalSeconds;
        else if (!_isBlended || mishap is PlainMishap.Stuck or PlainMishap.StuckChannel or PlainMishap.StuckAll or PlainMishap.RowsMissing or PlainMishap.RowsBlank)
            (from, length) = (Math.Round(from / IntervalSeconds) * IntervalSeconds, Math.Round(length / IntervalSeconds) * IntervalSeconds);
        var to = Math.Min(total, from + length);
        int[] clamps = Service == ServiceKind.DeltaTwoClamp ? [0, 2] : [.. Enumerable.Range(0, _lines)];
        var one = mishap is PlainMishap.LeadOff or PlainMishap.LeadOnNeutral or PlainMishap.LeadsExchanged or PlainMishap.LeadMoved or PlainMishap.NeutralExchanged or PlainMishap.LineLost
            ? _random.Next(_lines) : Pick(clamps);
        var other = mishap is PlainMishap.LeadsExchanged or PlainMishap.LeadMoved ? (one + 1 + _random.Next(Math.Max(1, _lines - 1))) % _lines
            : clamps.Where(each => each != one).Skip(_random.Next(Math.Max(1, clamps.Length - 1))).FirstOrDefault(one);
        var size = mishap switch
        {
            PlainMishap.LeadOff => Pick([0, 0.004, 0.02, 0.05, 0.15, 0.3]),
            PlainMishap.RatioOfTen => Pick([10, 0.1]),
            PlainMishap.RatioOfTwo => Pick([2, 0.5]),
            PlainMishap.ClampOpening => 0.3 + (0.4 * _random.NextDouble()),
            PlainMishap.OverRange => 0.75 + (0.2 * _random.NextDouble()),
            PlainMishap.ClampOff => Pick([0, 0.002]),
            PlainMishap.Stuck => _random.Next(2),
            _ => 0,
        };
        var happening = new Happening(mishap, one, other, from, to, size);
        _happenings.Add(happening);
        if (mishap != PlainMishap.OverRange) _truths.Add(Truth(happening));
    }

    private PlainTruth Truth(Happening each)
    {
        DateTime from = Start.AddSeconds(each.From), to = Start.AddSeconds(each.To);
        Lead lead = (Lead)each.One, otherLead = (Lead)each.Other;
        Clamp clamp = (Clamp)each.One, otherClamp = (Clamp)each.Other;
        Lead[] leads = [.. Enumerable.Range(0, _lines).Select(line => (Lead)line)];
        PlainTruth Of(SpanKind kind, Lead[]? of = null, Clamp[]? at = null) => new(kind, of ?? [], at ?? [], from, to, false);
        return each.Mishap switch
        {
            PlainMishap.LeadOff => Of(SpanKind.LeadOpen, [lead]) with { Or = each.Size == 0 && !_isThreeWire ? SpanKind.LeadOnNeutral : null },
            PlainMishap.LeadOnNeutral => Of(SpanKind.LeadOnNeutral, [lead]),
            PlainMishap.LeadsExchanged => Of(SpanKind.LeadsExchanged, Ordered(lead, otherLead)),
            PlainMishap.LeadMoved => Of(SpanKind.LeadsOnSameConductor, Ordered(lead, otherLead)),
            PlainMishap.NeutralExchanged => Of(SpanKind.NeutralExchanged, [lead, Lead.VN]),
            PlainMishap.ClampReversed => Of(SpanKind.ClampReversed, null, [clamp]),
            PlainMishap.ClampsExchanged => Of(SpanKind.ClampsExchanged, null, Ordered(clamp, otherClamp)),
            PlainMishap.ClampsRotated => Of(SpanKind.ClampsRotated, null, [Clamp.I1, Clamp.I2, Clamp.I3]),
            PlainMishap.ClampMoved => Of(SpanKind.ClampsOnSameConductor, null, Ordered(clamp, otherClamp)),
            PlainMishap.ClampOff => Of(SpanKind.ClampOpen, null, [clamp]),
            PlainMishap.ClampOpening => Of(SpanKind.ClampOpen, null, [clamp]) with { IsGradual = true },
            PlainMishap.RatioOfTen or PlainMishap.RatioOfTwo => Of(SpanKind.RatioWrong, null, [clamp]),
            PlainMishap.Stuck when each.Size == 0 => Of(SpanKind.Stuck, [lead]),
            PlainMishap.Stuck or PlainMishap.StuckChannel => Of(SpanKind.Stuck, null, [clamp]),
            PlainMishap.StuckAll => Of(SpanKind.Stuck, leads, Clamps()),
            PlainMishap.RowsMissing or PlainMishap.RowsBlank => Of(SpanKind.NoData),
            PlainMishap.Outage => Of(SpanKind.Outage, leads),
            PlainMishap.LineLost => Of(SpanKind.Outage, [lead]),
            PlainMishap.ClockForward => Of(SpanKind.ClockJump),
            _ => throw new InvalidOperationException(),
        };
    }

    private Clamp[] Clamps() => Service == ServiceKind.DeltaTwoClamp ? [Clamp.I1, Clamp.I3] : [.. Enumerable.Range(0, _lines).Select(line => (Clamp)line)];

    private static T[] Ordered<T>(params T[] values) => [.. values.Order()];

    private IntervalLog Make()
    {
        var rows = new List<(long Start, double[] Values)>();
        double skipped = 0;
        double[]? held = null;
        Complex[] lines = new Complex[3], currents = new Complex[3];
        for (var row = 0; row < _rows; row++)
        {
            double from = (double)row * IntervalSeconds, to = from + IntervalSeconds, middle = from + (IntervalSeconds / 2.0);
            Live(middle, lines, currents);
            var values = Read(lines, currents, null, 0);
            var isMissing = false;
            var right = (double[])values.Clone();
            foreach (var each in _happenings)
            {
                var share = (Math.Min(to, each.To) - Math.Max(from, each.From)) / IntervalSeconds;
                if (each.Mishap == PlainMishap.ClockForward)
                {
                    if (from >= each.From && skipped == 0) skipped = each.To - each.From;
                    continue;
                }

                if (share <= 1e-9) continue;
                if (each.Mishap == PlainMishap.RowsMissing) isMissing = true;
                if (each.Mishap == PlainMishap.RowsBlank) Array.Fill(values, double.NaN);
                if (each.Mishap is PlainMishap.Stuck or PlainMishap.StuckChannel or PlainMishap.StuckAll or PlainMishap.OverRange) continue;
                var wrong = Read(lines, currents, each, middle);
                for (var index = 0; index < values.Length && each.Mishap is not (PlainMishap.RowsMissing or PlainMishap.RowsBlank); index++)
                    values[index] += share * (wrong[index] - values[index]);
                for (var index = 0; index < right.Length && each.Mishap is PlainMishap.Outage or PlainMishap.LineLost; index++) right[index] += share * (wrong[index] - right[index]);
            }

            RoundOff(right);
            for (var line = 0; line < _lines; line++) TrueWattHours += Service == ServiceKind.DeltaTwoClamp && line == 1 ? 0 : right[6 + line] * IntervalSeconds / 3600;

            foreach (var each in _happenings)
            {
                if (each.Mishap is not (PlainMishap.Stuck or PlainMishap.StuckChannel or PlainMishap.StuckAll)) continue;
                if (middle < each.From || middle > each.To) continue;
                held ??= values;
                int[] stuck = each.Mishap switch
                {
                    PlainMishap.StuckAll => [.. Enumerable.Range(0, 12)],
                    PlainMishap.StuckChannel => [3 + each.One, 6 + each.One, 9 + each.One],
                    _ => [each.One + (each.Size == 0 ? 0 : 3)],
                };
                foreach (var index in stuck) values[index] = held[index];
            }

            if (!isMissing) rows.Add((Start.AddSeconds(from + skipped).Ticks, values));
        }

        foreach (var each in _happenings) Cut(each, rows);
        foreach (var (_, values) in rows) RoundOff(values);
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var data = new List<double[]>();
        void Keep(string name, LogQuantity quantity, LogPlace place, Func<double[], double> value)
        {
            columns.Add(new LogColumn(name, quantity, place));
            data.Add([.. rows.Select(row => value(row.Values))]);
        }

        for (var line = 0; line < _lines; line++)
        {
            var (index, place) = (line, LogPlace.Phase1 + line);
            if (_isThreeWire) Keep($"V{line + 1}{((line + 1) % 3) + 1}", LogQuantity.Voltage, LogPlace.Pair12 + line, values => values[index]);
            else Keep($"V{line + 1}", LogQuantity.Voltage, place, values => values[index]);
            if (Service == ServiceKind.DeltaTwoClamp && line == 1) continue;
            Keep($"I{line + 1}", LogQuantity.Current, place, values => values[3 + index]);
            if (_columns < 3) Keep($"P{line + 1}", LogQuantity.ActivePower, place, values => values[6 + index]);
            if (_columns < 2) Keep($"Q{line + 1}", LogQuantity.ReactivePower, place, values => values[9 + index]);
            if (_columns != 1) continue;
            Keep($"S{line + 1}", LogQuantity.ApparentPower, place, values => Complex.Abs(new(values[6 + index], values[9 + index])));
            Keep($"PF{line + 1}", LogQuantity.PowerFactor, place, values => Math.Round(values[6 + index] / Math.Max(1e-9, Complex.Abs(new(values[6 + index], values[9 + index]))), 3));
        }

        return new IntervalLog(columns.ToImmutable(), [.. rows.Select(row => row.Start)], [.. data], IntervalSeconds);
    }

    /// <summary>Potentials of the lines and their currents.</summary>
    private void Live(double seconds, Complex[] lines, Complex[] currents)
    {
        var time = Start.AddSeconds(seconds);
        var hour = time.TimeOfDay.TotalHours;
        var level = 1 + (_common * Math.Sin((hour - 3) * Math.PI / 12));
        var shared = Gauss();
        for (var line = 0; line < 3; line++)
        {
            var angle = Service == ServiceKind.Split ? Math.PI * line : -2 * Math.PI / 3 * line;
            _walk[line] += (-0.03 * _walk[line]) + (0.08 * Gauss());
            if (_random.NextDouble() < 0.04) _step[line] = _random.NextDouble();
            var day = hour + _hours[line];
            var curve = _shape switch
            {
                0 => 1 + (0.5 * Math.Sin((day - 9) * Math.PI / 12)),
                1 => 0.2 + (time.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday || hour is < 7 or >= 17 ? 0.05 : 1),
                2 => 0.6 + (0.3 * Math.Sin((day - 9) * Math.PI / 12)) + _step[line],
                3 => 1,
                4 => hour is < 6 or >= 21 ? 0 : Math.Sin((hour - 6) * Math.PI / 15),
                5 => 0.3 + (1.4 * _random.NextDouble()),
                6 => Math.Exp(_walk[line]),
                _ => 0.25 + (0.75 * Math.Max(0, Math.Sin((day - 6) * Math.PI / 12))),
            };
            var size = Math.Max(0, _size[line] * curve * (1 + (_ampereNoise * ((0.3 * shared) + (0.95 * Gauss())))));
            var lag = Math.Acos(Math.Clamp(Math.Cos(_lag[line]) + (_factorNoise * Gauss()), 0.3, 1));
            var volts = Nominal.LineToNeutralVolts * (level + _offset[line] + (_voltNoise * Gauss())) * (1 - (_ohms * size / _size[line]));
            lines[line] = Complex.FromPolarCoordinates(volts, angle);
            currents[line] = Complex.FromPolarCoordinates(size, angle - lag);
        }

        // What flows in on three wires flows out on them.
        if (Service == ServiceKind.DeltaTwoClamp) currents[1] = -currents[0] - currents[2];
        if (Service != ServiceKind.Delta) return;
        var mean = (currents[0] + currents[1] + currents[2]) / 3;
        for (var line = 0; line < 3; line++) currents[line] -= mean;
    }

    /// <summary>What the recorder reads: volts, amperes, watts, vars of each channel.</summary>
    private double[] Read(Complex[] lines, Complex[] currents, Happening? each, double seconds)
    {
        var values = new double[12];
        if (each?.Mishap == PlainMishap.Outage) return values;
        Complex[] points = [lines[0], lines[1], lines[2], 0], through = [currents[0], currents[1], currents[2]];
        var (one, other) = (each?.One ?? 0, each?.Other ?? 0);
        var ghost = 1.0;
        switch (each?.Mishap)
        {
            case PlainMishap.LeadOff when _isThreeWire:
                points[one] = (lines[(one + 1) % 3] + lines[(one + 2) % 3]) / 2;
                break;
            case PlainMishap.LeadOff:
                ghost = each.Size * (1 + (0.02 * Gauss()));
                break;
            case PlainMishap.LineLost:
                points[one] = _isThreeWire ? (lines[(one + 1) % 3] + lines[(one + 2) % 3]) / 2 : 0;
                through[one] = 0;
                if (Service == ServiceKind.DeltaTwoClamp && one == 1) through[2] = -through[0];
                break;
            case PlainMishap.LeadOnNeutral:
                points[one] = 0;
                break;
            case PlainMishap.LeadsExchanged:
                (points[one], points[other]) = (points[other], points[one]);
                break;
            case PlainMishap.LeadMoved:
                points[one] = points[other];
                break;
            case PlainMishap.NeutralExchanged:
                (points[one], points[3]) = (points[3], points[one]);
                break;
            case PlainMishap.ClampReversed:
                through[one] = -through[one];
                break;
            case PlainMishap.ClampsExchanged:
                (through[one], through[other]) = (through[other], through[one]);
                break;
            case PlainMishap.ClampsRotated:
                through = [currents[1], currents[2], currents[0]];
                break;
            case PlainMishap.ClampMoved:
                through[one] = through[other];
                break;
            case PlainMishap.ClampOff:
                through[one] = each.Size * _size[one] * Math.Abs(Gauss());
                break;
            case PlainMishap.ClampOpening:
                through[one] *= 1 - ((1 - each.Size) * Math.Clamp((seconds - each.From) / (each.To - each.From), 0, 1));
                break;
            case PlainMishap.RatioOfTen or PlainMishap.RatioOfTwo:
                through[one] *= each.Size;
                break;
        }

        var star = _isThreeWire ? (points[0] + points[1] + points[2]) / 3 : points[3];
        for (var line = 0; line < _lines; line++)
        {
            var volts = _isThreeWire ? points[line] - points[(line + 1) % 3] : points[line] - star;
            var against = Service == ServiceKind.DeltaTwoClamp ? points[line] - points[1] : points[line] - star;
            if (each?.Mishap == PlainMishap.LeadOff && line == one && !_isThreeWire) (volts, against) = (ghost * volts, ghost * against);
            var power = against * Complex.Conjugate(through[line]);
            (values[line], values[3 + line], values[6 + line], values[9 + line]) = (volts.Magnitude, through[line].Magnitude, power.Real, power.Imaginary);
        }

        return values;
    }

    private void Cut(Happening each, List<(long Start, double[] Values)> rows)
    {
        if (each.Mishap != PlainMishap.OverRange) return;
        // The range is set for all of it, or for some hours too low.
        bool IsWithin(long start) => start >= Start.AddSeconds(each.From).Ticks && start < Start.AddSeconds(each.To).Ticks;
        var sorted = rows.Where(row => IsWithin(row.Start)).Select(row => row.Values[3 + each.One]).Where(value => !double.IsNaN(value)).Order().ToArray();
        if (sorted.Length == 0) return;
        var limit = sorted[(int)((sorted.Length < rows.Count ? each.Size - 0.6 : each.Size) * (sorted.Length - 1))];
        DateTime? first = null, last = null;
        foreach (var (start, values) in rows)
        {
            if (!IsWithin(start) || !(values[3 + each.One] > limit)) continue;
            foreach (var index in new[] { 6, 9 }) values[index + each.One] *= limit / values[3 + each.One];
            values[3 + each.One] = limit;
            first ??= new DateTime(start);
            last = new DateTime(start).AddSeconds(IntervalSeconds);
        }

        if (first is { } from && last is { } to) _truths.Add(new PlainTruth(SpanKind.OverRange, [], [(Clamp)each.One], from, to, true));
    }

    private void RoundOff(double[] values)
    {
        if (_quantum == 0) return;
        for (var index = 0; index < 12; index++)
        {
            var step = (_quantum, index) switch { (1, < 3) => 0.1, (1, < 6) => 0.1, (1, _) => 10, (_, < 3) => 0.1, (_, < 6) => 0.01, _ => 1.0 };
            values[index] = Math.Round(values[index] / step) * step;
        }
    }

    private T Pick<T>(T[] from) => from[_random.Next(from.Length)];

    private double Gauss() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());

    private sealed record Happening(PlainMishap Mishap, int One, int Other, double From, double To, double Size);
}
