using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>The vector diagram of what the channels read: reference upward, positive angles anticlockwise, voltages long and
/// solid with full arrowheads, currents shorter and dashed with open ones.</summary>
public static class VectorDiagram
{
    private const double Centre = 179;
    private const double Top = 176;
    private const double VoltageLength = 128;
    private const double CurrentLength = 84;
    private const double Height = 386;
    private const string Ink = "#1f2326";
    private const string Copper = "#9c4a12";

    /// <summary>The order of the voltages in words, such as <c>The voltages come in the order 1, 2, 3.</c></summary>
    /// <param name="verdict">The verdict that holds the phasors.</param>
    public static string PhaseOrder(HookupVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return OrderOf(verdict.Phasors, verdict.Service);
    }

    private static string OrderOf(ImmutableSortedDictionary<Channel, Phasor> phasors, ServiceKind service)
    {
        var isLeadToLead = phasors.ContainsKey(Channel.V12) && !phasors.ContainsKey(Channel.V1);
        Channel[] wanted = isLeadToLead ? [Channel.V12, Channel.V23, Channel.V31] : [Channel.V1, Channel.V2, Channel.V3];
        var voltages = wanted.Where(phasors.ContainsKey).Select(channel => phasors[channel]).ToArray();
        if (voltages.Length == 2 && service is ServiceKind.Split or ServiceKind.Network)
        {
            var apart = Math.Abs(Angle.WrapDegrees(voltages[1].AngleDegrees - voltages[0].AngleDegrees));
            return Say.Of("vectors.two-apart", "The two voltages stand {degrees} apart.", ("degrees", Phrases.Degrees(apart)));
        }

        if (voltages.Length == 1 && service == ServiceKind.Single) return Say.Of("vectors.one-voltage", "There is one voltage.");
        if (voltages.Length < 3) return Say.Of("vectors.no-order-read", "No order of the voltages was read.");

        // Sequence components (C. L. Fortescue, 1918), without their common factor of a third: the larger one gives the order.
        var forward = (voltages[0] + voltages[1].TurnedByDegrees(120) + voltages[2].TurnedByDegrees(-120)).Magnitude;
        var backward = (voltages[0] + voltages[1].TurnedByDegrees(-120) + voltages[2].TurnedByDegrees(120)).Magnitude;
        if (Math.Max(forward, backward) < 2 * Math.Min(forward, backward)) return Say.Of("vectors.no-clear-order", "The voltages come in no clear order.");
        var order = isLeadToLead ? forward > backward ? Phrases.Join(wanted) : Phrases.Join([wanted[0], wanted[2], wanted[1]])
            : forward > backward ? "1, 2, 3" : "1, 3, 2";
        return Say.Of("vectors.order", "The voltages come in the order {order}.", ("order", order));
    }

    /// <summary>The diagram's text twin: each vector with size and angle, then the order.</summary>
    /// <param name="verdict">The verdict that holds the phasors.</param>
    public static string Description(HookupVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return Description(verdict.Phasors, verdict.Service);
    }

    /// <summary>The text twin of any set of vectors.</summary>
    /// <param name="phasors">The vectors, by their channels.</param>
    /// <param name="service">The service they are of.</param>
    public static string Description(ImmutableSortedDictionary<Channel, Phasor> phasors, ServiceKind service)
    {
        ArgumentNullException.ThrowIfNull(phasors);
        if (phasors.IsEmpty) return Say.Of("vectors.none", "No angles were read, so there are no vectors to draw.");
        var parts = phasors.Select(channel =>
            Say.Of(
                "vectors.at", "{channel} {size} at {degrees}", ("channel", channel.Key), ("size", Phrases.Size(channel.Value.Magnitude, IsVoltage(channel.Key) ? "V" : "A")), ("degrees", Phrases.Degrees(channel.Value.AngleDegrees))));
        return $"{string.Join("; ", parts)}. {OrderOf(phasors, service)}";
    }

    /// <summary>The drawing as an SVG element that scales with its place; legible from 340 px wide.</summary>
    /// <param name="verdict">The verdict that holds the phasors.</param>
    /// <param name="id">A prefix for the ids in the drawing, so that several can stand on one page.</param>
    public static string Svg(HookupVerdict verdict, string id = "vectors")
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return Svg(verdict.Phasors, verdict.Service, id);
    }

    /// <summary>The drawing of any set of vectors.</summary>
    /// <param name="phasors">The vectors, by their channels.</param>
    /// <param name="service">The service they are of.</param>
    /// <param name="id">A prefix for the ids in the drawing, so that several can stand on one page.</param>
    public static string Svg(ImmutableSortedDictionary<Channel, Phasor> phasors, ServiceKind service, string id = "vectors")
    {
        ArgumentNullException.ThrowIfNull(phasors);
        var svg = new SvgWriter();
        svg.Add($"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 358 {Height}" width="100%" role="img" aria-labelledby="{id}-title {id}-desc" font-family="system-ui, 'Segoe UI', 'DejaVu Sans', sans-serif">""");
        svg.Add($"""<title id="{id}-title">{SvgWriter.Escaped(Say.Of("vectors.title", "Vector diagram"))}</title><desc id="{id}-desc">{SvgWriter.Escaped(Description(phasors, service))}</desc>""");
        svg.Add($"""<rect x="1" y="1" width="356" height="{Height - 2}" rx="8" fill="#f4f2ec" stroke="#c9c4b8"/>""");
        Dial(svg);
        var longest = (Volts: Longest(phasors, true), Amperes: Longest(phasors, false));
        var vectors = phasors.Where(channel => channel.Value.SquaredMagnitude > 0)
            .Select(channel => Drawn(channel.Key, channel.Value, longest)).ToArray();
        foreach (var vector in vectors) Vector(svg, vector);
        var labels = new VectorLabels(Centre, Top, [.. vectors.Select(vector => (vector.X, vector.Y))]);
        foreach (var vector in vectors) Label(svg, vector, labels);
        Legend(svg, longest.Volts, longest.Amperes);
        svg.Add($"</svg>");
        return svg.ToString();
    }

    private static bool IsVoltage(Channel channel) => channel < Channel.I1;

    private static double Longest(ImmutableSortedDictionary<Channel, Phasor> phasors, bool isVoltage) => phasors
        .Where(channel => IsVoltage(channel.Key) == isVoltage).Select(channel => channel.Value.Magnitude).DefaultIfEmpty(0).Max();

    private static void Dial(SvgWriter svg)
    {
        svg.Add($"""<circle cx="{Centre}" cy="{Top}" r="{VoltageLength}" fill="#fff" stroke="#b9b3a5"/>""");
        for (var degrees = 0; degrees < 360; degrees += 30)
        {
            var (x, y) = Direction(degrees);
            var inner = degrees % 90 == 0 ? 118.0 : 122.0;
            svg.Add($"""<line x1="{Centre + (inner * x)}" y1="{Top + (inner * y)}" x2="{Centre + (VoltageLength * x)}" y2="{Top + (VoltageLength * y)}" stroke="#8d877a"/>""");
        }

        svg.Add($"""<text x="12" y="22" font-size="12" fill="{Ink}">{SvgWriter.Escaped(Say.Of("vectors.up", "0° is up"))}</text>""");
        svg.Add($"""<path d="M 40 52 A 22 22 0 0 0 16 42" fill="none" stroke="{Ink}" stroke-width="1.5"/><path d="M 12 42 l 8 -4 v 8 z" fill="{Ink}"/>""");
        svg.Add($"""<text x="46" y="50" font-size="12" fill="{Ink}">+</text>""");
    }

    private static DrawnVector Drawn(Channel channel, Phasor phasor, (double Volts, double Amperes) longest)
    {
        var length = phasor.Magnitude * (IsVoltage(channel) ? VoltageLength / longest.Volts : CurrentLength / longest.Amperes);
        var (x, y) = Direction(phasor.AngleDegrees);
        return new(channel, length * x, length * y);
    }

    private static void Vector(SvgWriter svg, DrawnVector vector)
    {
        var length = Math.Sqrt((vector.X * vector.X) + (vector.Y * vector.Y));
        var (x, y) = (vector.X / length, vector.Y / length);
        var (tipX, tipY) = (Centre + vector.X, Top + vector.Y);
        var isVoltage = IsVoltage(vector.Channel);
        var head = Math.Min(isVoltage ? 13 : 11, length / 2);
        var (backX, backY) = (tipX - (head * x), tipY - (head * y));
        var side = isVoltage ? 5.5 : 5.0;
        var (leftX, leftY) = (backX + (side * y), backY - (side * x));
        var (rightX, rightY) = (backX - (side * y), backY + (side * x));
        if (isVoltage)
        {
            svg.Add($"""<line x1="{Centre}" y1="{Top}" x2="{backX}" y2="{backY}" stroke="{Ink}" stroke-width="3.2" data-channel="{vector.Channel}"/>""");
            svg.Add($"""<path d="M {tipX} {tipY} L {leftX} {leftY} L {rightX} {rightY} Z" fill="{Ink}"/>""");
        }
        else
        {
            svg.Add($"""<line x1="{Centre}" y1="{Top}" x2="{tipX}" y2="{tipY}" stroke="#fff" stroke-width="5"/><line x1="{Centre}" y1="{Top}" x2="{tipX}" y2="{tipY}" stroke="{Copper}" stroke-width="2.6" stroke-dasharray="7 3" data-channel="{vector.Channel}"/>""");
            svg.Add($"""<path d="M {leftX} {leftY} L {tipX} {tipY} L {rightX} {rightY}" fill="none" stroke="{Copper}" stroke-width="2.6"/>""");
        }
    }

    private static void Label(SvgWriter svg, DrawnVector vector, VectorLabels labels)
    {
        var (x, y) = labels.Place(vector.X, vector.Y);
        svg.Add($"""<text x="{x}" y="{y + 5}" font-size="15" font-weight="700" text-anchor="middle" fill="{(IsVoltage(vector.Channel) ? Ink : Copper)}" stroke="#fff" stroke-width="4" paint-order="stroke" stroke-linejoin="round">{vector.Channel}</text>""");
    }

    private static void Legend(SvgWriter svg, double volts, double amperes)
    {
        svg.Add($"""<line x1="16" y1="346" x2="46" y2="346" stroke="{Ink}" stroke-width="3.2"/><path d="M 56 346 l -12 -5 v 10 z" fill="{Ink}"/>""");
        svg.Add($"""<text x="66" y="351" font-size="13" fill="{Ink}">{SvgWriter.Escaped(Kind(true, volts))}</text>""");
        svg.Add($"""<line x1="16" y1="368" x2="54" y2="368" stroke="{Copper}" stroke-width="2.6" stroke-dasharray="7 3"/><path d="M 46 363 L 56 368 L 46 373" fill="none" stroke="{Copper}" stroke-width="2.6"/>""");
        svg.Add($"""<text x="66" y="373" font-size="13" fill="{Copper}">{SvgWriter.Escaped(Kind(false, amperes))}</text>""");
    }

    private static string Kind(bool isVoltage, double largest)
    {
        var name = isVoltage ? Say.Of("vectors.voltages", "voltages") : Say.Of("vectors.currents", "currents");
        return largest > 0 ? Say.Of("vectors.up-to", "{kind}, up to {size}", ("kind", name), ("size", Phrases.Size(largest, isVoltage ? "V" : "A"))) : name;
    }

    private static (double X, double Y) Direction(double degrees)
    {
        var (sine, cosine) = Math.SinCos(degrees * (Math.PI / 180));
        return (-sine, -cosine);
    }

    private readonly record struct DrawnVector(Channel Channel, double X, double Y);
}
