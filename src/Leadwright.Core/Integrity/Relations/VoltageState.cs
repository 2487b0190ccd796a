using Leadwright.Core.Circuits;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>What the voltages may be doing.</summary>
internal enum VoltageStateKind
{
    Sound,
    Leads,
    Outage,
    LineLost,
    UpstreamPhaseLost,
    SupplyNeutralLost,
}

/// <summary>One thing that the voltages may be doing, with what the channels then read.</summary>
/// <param name="Kind">What.</param>
/// <param name="Line">The line or lead concerned; −1 for none.</param>
/// <param name="Leads">Conductor of each lead, 3 the neutral, −1 the air.</param>
/// <param name="Pattern">Each channel in its unit; NaN where it may read anything.</param>
/// <param name="Enter">Cost of going into it.</param>
internal sealed record VoltageState(VoltageStateKind Kind, int Line, int[] Leads, double[] Pattern, double Enter);

/// <summary>The states that a service's voltages can be in.</summary>
internal static class VoltageStates
{
    // Minus the natural logarithm of how often a row sees one begin: about one in a hundred weeks of a thousand rows for a lead that falls
    // off, rarer for what takes a hand. Common practice, no source.
    private const double LeadFalls = 11;
    private const double LeadIsMoved = 13;
    private const double SupplyGoes = 10;
    private const double NeverByItself = 1e6;

    public static VoltageState[] Of(GuardFrame frame)
    {
        var states = new List<VoltageState> { new(VoltageStateKind.Sound, -1, [0, 1, 2, 3], Pattern(frame, [0, 1, 2, 3]), 3) };
        if (frame.Lines == 1)
        {
            states.Add(new(VoltageStateKind.Leads, 0, [-1, 1, 2, 3], [double.NaN, 0, 0], LeadFalls));
            states.Add(new(VoltageStateKind.Outage, -1, [0, 1, 2, 3], [0, 0, 0], SupplyGoes));
            return [.. states];
        }

        for (var lead = 0; lead < frame.Lines; lead++)
        {
            Add(states, frame, lead, Put(lead, -1), LeadFalls);
            if (frame.Service.IsThreeWire) continue;
            // Star point in the air as well: the inputs share what is left.
            var floating = Put(lead, -1);
            floating[3] = -1;
            Add(states, frame, lead, floating, LeadFalls + 2);
            Add(states, frame, lead, Put(lead, 3), LeadIsMoved);
            var exchanged = Put(lead, 3);
            exchanged[3] = lead;
            Add(states, frame, lead, exchanged, LeadIsMoved);
        }

        for (var first = 0; first < frame.Lines; first++)
        {
            for (var second = first + 1; second < frame.Lines; second++)
            {
                // On one conductor: shows in lead-to-lead voltages alone.
                if (frame.IsPairs)
                {
                    Add(states, frame, first, Put(first, second), LeadIsMoved);
                    continue;
                }

                // Where the lines' voltages differ, so do those of leads on another line.
                int[] swapped = [0, 1, 2, 3];
                (swapped[first], swapped[second]) = (second, first);
                AddIfOther(states, frame, first, swapped);
                AddIfOther(states, frame, first, Put(first, second));
                AddIfOther(states, frame, second, Put(second, first));
                var both = Put(first, -1);
                both[second] = -1;
                Add(states, frame, first, both, LeadFalls + 4);
            }
        }

        if (!frame.Service.IsThreeWire)
        {
            // On wye and split services the inputs' own star point stands where the neutral was: sizes alone don't tell, and another chain looks.
            var neutral = Put(3, -1);
            var isSilent = frame.Service.Kind is ServiceKind.Wye or ServiceKind.Split;
            Add(states, frame, 3, neutral, isSilent ? NeverByItself : LeadFalls);
        }

        states.Add(new(VoltageStateKind.Outage, -1, [0, 1, 2, 3], new double[3], SupplyGoes));
        for (var line = 0; line < frame.Lines; line++)
        {
            states.Add(new(VoltageStateKind.LineLost, line, [0, 1, 2, 3], Lost(frame, line), SupplyGoes + 2));
            // Which of A and C of a high-leg service is on the phase that stayed the sizes don't tell: one state, of A, for both.
            if (frame.Service.IsThreePhase && !(frame.Service.Kind == ServiceKind.HighLeg && !frame.IsPairs && line == 2)) states.Add(new(VoltageStateKind.UpstreamPhaseLost, line, [0, 1, 2, 3], Upstream(frame, line), SupplyGoes + 2));
        }

        if (!frame.Service.IsThreeWire) states.Add(new(VoltageStateKind.SupplyNeutralLost, 3, [0, 1, 2, 3], [double.NaN, double.NaN, double.NaN], SupplyGoes + 3));
        return [.. states];
    }

    /// <summary>What the channels read with the leads so; NaN for an open lead that stray fields may bring to anything.</summary>
    public static double[] Pattern(GuardFrame frame, int[] leads)
    {
        var floats = frame.Service.IsThreeWire || leads[3] < 0;
        var star = Phasor.Zero;
        var count = 0;
        for (var lead = 0; lead < frame.Lines; lead++)
        {
            if (leads[lead] < 0) continue;
            star += frame.Ideal[leads[lead]];
            count++;
        }

        star = floats ? (count > 0 ? star / count : Phasor.Zero) : frame.Ideal[leads[3]];
        Span<Phasor> points = stackalloc Phasor[3];
        var pattern = new double[3];
        for (var lead = 0; lead < 3; lead++)
        {
            var isOpen = lead < frame.Lines && leads[lead] < 0;
            points[lead] = lead >= frame.Lines || isOpen ? Phasor.Zero : frame.Ideal[leads[lead]] - star;
            pattern[lead] = isOpen && !floats ? double.NaN : points[lead].Magnitude;
        }

        if (!frame.IsPairs) return pattern;
        for (var pair = 0; pair < 3; pair++)
        {
            var (from, to) = (pair, (pair + 1) % 3);
            var isAny = double.IsNaN(pattern[from]) || double.IsNaN(pattern[to]);
            pattern[pair] = isAny ? double.NaN : (points[from] - points[to]).Magnitude / Math.Sqrt(3);
        }

        return pattern;
    }

    private static void Add(List<VoltageState> states, GuardFrame frame, int line, int[] leads, double enter) =>
        states.Add(new(VoltageStateKind.Leads, line, leads, Pattern(frame, leads), enter));

    private static void AddIfOther(List<VoltageState> states, GuardFrame frame, int line, int[] leads)
    {
        var pattern = Pattern(frame, leads);
        if (Enumerable.Range(0, frame.Lines).Any(index => Math.Abs(pattern[index] - states[0].Pattern[index]) > 0.05)) Add(states, frame, line, leads, LeadIsMoved);
    }

    private static int[] Put(int lead, int on)
    {
        int[] leads = [0, 1, 2, 3];
        leads[lead] = on;
        return leads;
    }

    /// <summary>A lost line: its channels read anything up to nominal, the others stay.</summary>
    private static double[] Lost(GuardFrame frame, int line)
    {
        var pattern = Pattern(frame, [0, 1, 2, 3]);
        pattern[line] = double.NaN;
        if (frame.IsPairs) pattern[(line + 2) % 3] = double.NaN;
        return pattern;
    }

    /// <summary>One phase lost on the high-voltage side of a delta-wye transformer: two lines at minus half the third (see the table of
    /// docs/methods/guard.md); motors may hold them up, so those two are open.</summary>
    private static double[] Upstream(GuardFrame frame, int kept)
    {
        if (frame.IsPairs)
        {
            var pattern = new double[3];
            for (var pair = 0; pair < 3; pair++) pattern[pair] = pair == kept || (pair + 1) % 3 == kept ? 1.5 / Math.Sqrt(3) : 0;
            return pattern;
        }

        if (frame.Service.Kind == ServiceKind.HighLeg) return HighLeg(kept, 0);
        var open = Pattern(frame, [0, 1, 2, 3]);
        for (var line = 0; line < 3; line++)
        {
            if (line != kept) open[line] *= 0.5;
        }

        return open;
    }

    /// <summary>What the lines of a high-leg service read, in the order A, B, C and per unit of A, with one phase lost upstream: two corners of the triangle stand together opposite
    /// the third, and the neutral is the tap in the middle of A and C.</summary>
    /// <param name="kept">The third: B, or A or C, which read the same.</param>
    /// <param name="held">Share of the lost voltage that motors hold up.</param>
    public static double[] HighLeg(int kept, double held)
    {
        // Corners about the triangle's middle, one from it each; a side is √3, of which the tap takes half.
        Span<Phasor> corners = [Phasor.FromDegrees(1, 0), Phasor.FromDegrees(1, -120), Phasor.FromDegrees(1, 120)];
        var stays = corners[kept];
        for (var line = 0; line < 3; line++)
        {
            if (line != kept) corners[line] = (-0.5 * (1 - held) * stays) + (held * corners[line]);
        }

        var tap = (corners[0] + corners[2]) / 2;
        var unit = Math.Sqrt(3) / 2;
        return [(corners[0] - tap).Magnitude / unit, (corners[1] - tap).Magnitude / unit, (corners[2] - tap).Magnitude / unit];
    }
}
