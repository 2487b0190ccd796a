using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>Which conductors' potentials each voltage channel reads under one arrangement of the leads.</summary>
/// <param name="Rows">A row of four weights (A, B, C, N) for each channel.</param>
/// <param name="IsOpen">True for a channel with a lead in the air: it follows no conductor surely.</param>
internal sealed record LeadRows(double[] Rows, bool[] IsOpen)
{
    public const int Conductors = 4;

    /// <summary>The rows of an arrangement.</summary>
    /// <param name="map">The leads.</param>
    /// <param name="service">The service.</param>
    /// <param name="channels">The voltage channels.</param>
    public static LeadRows Of(LeadMap map, Service service, IReadOnlyList<Channel> channels)
    {
        var rows = new double[channels.Count * Conductors];
        var isOpen = new bool[channels.Count];
        Span<double> star = stackalloc double[Conductors];
        star.Clear();
        var connected = 0;
        for (var lead = 0; lead < 3; lead++)
        {
            if (map.On[lead] is < 0 or Place.Air) continue;
            star[map.On[lead]]++;
            connected++;
        }

        for (var conductor = 0; conductor < Conductors; conductor++) star[conductor] /= Math.Max(connected, 1);
        for (var channel = 0; channel < channels.Count; channel++)
        {
            var (plus, minus) = channels[channel] switch
            {
                Channel.V12 => (0, 1),
                Channel.V23 => (1, 2),
                Channel.V31 => (2, 0),
                var name => ((int)name, service.IsThreeWire ? -1 : (int)Lead.VN),
            };
            var row = rows.AsSpan(channel * Conductors, Conductors);
            var floats = service.IsThreeWire && connected > 1;
            isOpen[channel] = !Add(row, map, star, plus, 1, floats) | !Add(row, map, star, minus, -1, floats);
            // With the neutral lead in the air the inputs' star point stands at the mean of the others.
            if (isOpen[channel] && minus == (int)Lead.VN && map[Lead.VN] == Place.Air && map.On[plus] is >= 0 and not Place.Air && connected > 1)
            {
                row.Clear();
                row[map.On[plus]] += 1;
                for (var conductor = 0; conductor < Conductors; conductor++) row[conductor] -= star[conductor];
                isOpen[channel] = false;
            }

            if (isOpen[channel]) row.Clear();
        }

        return new LeadRows(rows, isOpen);
    }

    /// <summary>The same with an open channel that hangs between the line leads which are connected, against its neutral lead; null where there are none.</summary>
    /// <param name="channel">Position of the channel.</param>
    /// <param name="map">The leads.</param>
    public LeadRows? Hanging(int channel, LeadMap map)
    {
        if (map.On[(int)Lead.VN] is < 0 or Place.Air) return null;
        var rows = (double[])Rows.Clone();
        var row = rows.AsSpan(channel * Conductors, Conductors);
        row.Clear();
        var connected = 0;
        for (var lead = 0; lead < 3; lead++)
        {
            if (map.On[lead] is < 0 or Place.Air) continue;
            row[map.On[lead]]++;
            connected++;
        }

        if (connected == 0) return null;
        for (var conductor = 0; conductor < Conductors; conductor++) row[conductor] /= connected;
        row[map.On[(int)Lead.VN]]--;
        return this with { Rows = rows };
    }

    // On three wires an open lead drifts to the inputs' star point, the mean of the others.
    private static bool Add(Span<double> row, LeadMap map, ReadOnlySpan<double> star, int lead, double sign, bool floats)
    {
        if (lead < 0 || (floats && map.On[lead] == Place.Air))
        {
            for (var conductor = 0; conductor < Conductors; conductor++) row[conductor] += sign * star[conductor];
            return true;
        }

        var on = map.On[lead];
        if (on is < 0 or Place.Air) return false;
        row[on] += sign;
        return true;
    }
}
