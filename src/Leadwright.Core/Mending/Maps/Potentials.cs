using Leadwright.Core.Circuits;

namespace Leadwright.Core.Mending.Maps;

/// <summary>Potentials of the conductors in one slot: sizes as measured where a lead tells them, angles as the service has them.</summary>
/// <remarks>On three wires three pair voltages make a triangle, whose angles are then measured too. Derivation: docs/methods/mending.md.</remarks>
internal sealed class Potentials(ServiceKind service, RawSeries raw, double[] ratios, double level)
{
    private readonly Phasor[] _points = new Phasor[4];
    private readonly bool[] _isKnown = new bool[3];

    /// <summary>Potential of A, B, C and N; on three wires against the star point of the lines.</summary>
    public ReadOnlySpan<Phasor> Of => _points;

    /// <summary>True where the size of a line's potential was measured.</summary>
    public ReadOnlySpan<bool> IsKnown => _isKnown;

    /// <summary>The shape of a service without unbalance: unit potentials.</summary>
    public static Phasor Shape(ServiceKind service, int line, bool isAcb)
    {
        if (service == ServiceKind.HighLeg)
            return line switch { 0 => new Phasor(1, 0), 2 => new Phasor(-1, 0), _ => new Phasor(0, isAcb ? Math.Sqrt(3) : -Math.Sqrt(3)) };
        if (service == ServiceKind.Split) return new Phasor(line == 0 ? 1 : -1, 0);
        var degrees = line switch { 0 => 0, 1 => -120, _ => 120 };
        return Phasor.FromDegrees(1, isAcb ? -degrees : degrees);
    }

    public void Find(int slot, HookupMap map, Func<int, bool> isLeadGood)
    {
        if (raw.IsThreeWire) FindThreeWire(slot, map, isLeadGood);
        else FindToNeutral(slot, map, isLeadGood);
    }

    /// <summary>Voltage that an element's power was made with; null when it can't be told.</summary>
    public Phasor? Element(int element, HookupMap map)
    {
        if (raw.IsThreeWire && service == ServiceKind.DeltaTwoClamp)
        {
            var (one, other) = (Point(element, map), Point(1, map));
            return one is { } line && other is { } common ? line - common : null;
        }

        if (map.Leads[element] < 0) return null;
        var star = raw.IsThreeWire || map.Leads[3] < 0 ? Mean(map) : _points[map.Leads[3]];
        return raw.Lines == 1 && map.Leads[3] < 0 ? null : _points[map.Leads[element]] - star;
    }

    /// <summary>Voltage that belongs to an element.</summary>
    public Phasor True(int element) => service == ServiceKind.DeltaTwoClamp ? _points[element] - _points[1] : _points[element];

    private Phasor? Point(int lead, HookupMap map) => map.Leads[lead] < 0 ? Mean(map) : _points[map.Leads[lead]];

    private Phasor Mean(HookupMap map)
    {
        var (sum, count) = (Phasor.Zero, 0);
        for (var lead = 0; lead < raw.Lines; lead++)
        {
            if (map.Leads[lead] < 0) continue;
            sum += _points[map.Leads[lead]];
            count++;
        }

        return count == 0 ? Phasor.Zero : sum / count;
    }

    private void FindToNeutral(int slot, HookupMap map, Func<int, bool> isLeadGood)
    {
        Span<double> sizes = stackalloc double[3];
        Array.Clear(_isKnown);
        for (var lead = 0; lead < raw.Lines; lead++)
        {
            var volts = RawSeries.At(raw.Volts[lead], slot);
            if (!(volts >= 0) || !isLeadGood(lead)) continue;
            var (on, against) = (map.Leads[lead], map.Leads[3]);
            var line = against == 3 && on is >= 0 and < 3 ? on : on == 3 && against is >= 0 and < 3 ? against : against < 0 && on is >= 0 and < 3 ? on : -1;
            if (line < 0 || _isKnown[line]) continue;
            (sizes[line], _isKnown[line]) = (volts, true);
        }

        var (sum, count) = (0.0, 0);
        for (var line = 0; line < raw.Lines; line++)
        {
            if (!_isKnown[line]) continue;
            sum += sizes[line] / ratios[line];
            count++;
        }

        var mean = count > 0 ? sum / count : level;
        for (var line = 0; line < 3; line++)
        {
            var shape = Shape(service, line, map.IsAcb);
            var size = line >= raw.Lines ? 0 : _isKnown[line] ? sizes[line] : mean * ratios[line];
            _points[line] = size / shape.Magnitude * shape;
        }

        _points[3] = Phasor.Zero;
    }

    private void FindThreeWire(int slot, HookupMap map, Func<int, bool> isLeadGood)
    {
        // Sizes of A-B, B-C, C-A.
        Span<double> pairs = stackalloc double[3];
        Span<bool> isKnown = stackalloc bool[3];
        isKnown.Clear();
        var (sum, count) = (0.0, 0);
        for (var pair = 0; pair < 3; pair++)
        {
            var volts = RawSeries.At(raw.Volts[pair], slot);
            var (one, other) = (map.Leads[pair], map.Leads[(pair + 1) % 3]);
            if (!(volts >= 0) || one < 0 || other < 0 || one == other || !isLeadGood(pair)) continue;
            var at = (one, other) switch { (0, 1) or (1, 0) => 0, (1, 2) or (2, 1) => 1, _ => 2 };
            (pairs[at], isKnown[at]) = (volts, true);
            sum += volts;
            count++;
        }

        var mean = count > 0 ? sum / count : level * Math.Sqrt(3);
        for (var pair = 0; pair < 3; pair++)
        {
            if (!isKnown[pair]) pairs[pair] = mean * ratios[pair];
            _isKnown[pair] = isKnown[pair];
        }

        var (side, far, near) = (pairs[0], pairs[1], pairs[2]);
        for (var line = 0; line < 3; line++) _points[line] = mean / Math.Sqrt(3) * Shape(service, line, map.IsAcb);
        _points[3] = Phasor.Zero;
        if (!(side > 0)) return;
        // A at the origin, B along the real axis, C where the other two sides meet.
        var x = ((side * side) + (near * near) - (far * far)) / (2 * side);
        var square = (near * near) - (x * x);
        if (!(square > 0.1 * near * near)) return;
        var y = Math.Sqrt(square);
        // On a supply A-B-C the points A, B, C go round clockwise.
        var corner = new Phasor(x, map.IsAcb ? y : -y);
        var (a, b) = (Phasor.Zero, new Phasor(side, 0));
        var star = (a + b + corner) / 3;
        (_points[0], _points[1], _points[2]) = (a - star, b - star, corner - star);
    }
}
