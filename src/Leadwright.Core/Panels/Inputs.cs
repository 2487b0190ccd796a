using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels;

/// <summary>What each channel of an instrument gets, harmonic by harmonic, input errors included and noise not.</summary>
internal sealed class Inputs
{
    public const int ChannelCount = 10;
    private readonly Phasor[] _values;
    private bool _limits;
    private readonly bool[] _exists = new bool[ChannelCount];

    private Inputs(PanelSolution solution, Hookup hookup, Instrument instrument)
    {
        Solution = solution;
        Hookup = hookup;
        Instrument = instrument;
        Service = Service.Of(solution.Panel.Service);
        _values = new Phasor[solution.Orders.Length * ChannelCount];
    }

    public PanelSolution Solution { get; }

    public Hookup Hookup { get; }

    public Instrument Instrument { get; }

    public Service Service { get; }

    /// <summary>True on three wires, unless the recorder was hung on them with a fourth lead: its voltages are then to that one.</summary>
    public bool ShowsBetweenLines => Service.IsThreeWire && !Hookup.Leads.ContainsKey(Lead.VN);

    /// <summary>Whether the instrument has a channel, shown or not.</summary>
    public bool Has(Channel channel) => _exists[(int)channel];

    public Phasor At(int orderIndex, Channel channel) => _values[(orderIndex * ChannelCount) + (int)channel];

    /// <summary>Adds to the fundamental of a channel.</summary>
    public void Add(Channel channel, Phasor value) => _values[(int)channel] += value;

    /// <summary>Forms the line-to-line channels again, after the others were changed.</summary>
    public void FormLineToLine()
    {
        for (var index = 0; index < Solution.Orders.Length; index++) FormLineToLine(index);
    }

    /// <param name="solution">What the conductors do.</param>
    /// <param name="hookup">Where leads and clamps are.</param>
    /// <param name="instrument">The instrument.</param>
    /// <param name="random">Makes the stray pick-up.</param>
    /// <param name="limits">True when a clamp beyond its range shows its range; false when its wave is to be cut afterwards.</param>
    public static Inputs Of(PanelSolution solution, Hookup hookup, Instrument instrument, SeededRandom random, bool limits = true)
    {
        var inputs = new Inputs(solution, hookup, instrument) { _limits = limits };
        inputs.Connect(random);
        return inputs;
    }

    private void Connect(SeededRandom random)
    {
        Span<int> places = [-1, -1, -1, -1];
        Span<Phasor> strays = stackalloc Phasor[4];
        Span<Phasor> leadFactors = stackalloc Phasor[4];
        Span<bool> has = stackalloc bool[4];
        foreach (var (lead, conductor) in Hookup.Leads)
        {
            has[(int)lead] = true;
            if (conductor is { } on) places[(int)lead] = (int)RequireConductor(on, lead.ToString());
            leadFactors[(int)lead] = Instrument.LeadErrors.IsEmpty ? new Phasor(1, 0) : FactorOf(Instrument.LeadErrors.GetValueOrDefault(lead));
        }

        // Drawn for every lead, open or not, so that one fault more does not change the rest of the panel.
        var nominal = Solution.Panel.Source.Nominal.LineToNeutralVolts;
        for (var lead = 0; lead < 4; lead++)
        {
            strays[lead] = Phasor.FromDegrees(
                nominal * random.Uniform(Instrument.StrayLowFraction, Instrument.StrayHighFraction), random.Uniform(-180, 180));
        }

        for (var lead = 0; lead < 3; lead++) _exists[lead] = has[lead];
        var isReplayed = Instrument.ReplaysVoltage;
        if (isReplayed) _exists.AsSpan(0, Service.Leads.Count(lead => lead != Lead.VN)).Fill(true);
        for (var channel = 0; channel < 3; channel++)
            _exists[(int)Channel.V12 + channel] = _exists[channel] && _exists[(channel + 1) % 3];

        Span<Phasor> clampNoise = stackalloc Phasor[4];
        for (var clamp = 0; clamp < 4; clamp++)
        {
            clampNoise[clamp] = Phasor.FromDegrees(
                Instrument.ClampRatingAmperes * random.Uniform(0, Instrument.OpenClampFraction), random.Uniform(-180, 180));
        }

        for (var index = 0; index < Solution.Orders.Length; index++)
        {
            ConnectLeads(index, places, has, strays, leadFactors);
            if (isReplayed) Replay(index);
            FormLineToLine(index);
        }

        ConnectClamps(clampNoise);
    }

    private void ConnectLeads(
        int index, ReadOnlySpan<int> places, ReadOnlySpan<bool> has, ReadOnlySpan<Phasor> strays, ReadOnlySpan<Phasor> factors)
    {
        Phasor star;
        if (places[3] >= 0)
        {
            star = Solution.PotentialAt(index, (Conductor)places[3]);
        }
        else
        {
            var count = 0;
            star = Phasor.Zero;
            for (var lead = 0; lead < 3; lead++)
            {
                if (places[lead] < 0) continue;
                star += Solution.PotentialAt(index, (Conductor)places[lead]);
                count++;
            }

            if (count > 0) star = star / count;
        }

        for (var lead = 0; lead < 3; lead++)
        {
            if (!has[lead]) continue;
            Phasor volts;
            if (places[lead] >= 0) volts = factors[lead] * (Solution.PotentialAt(index, (Conductor)places[lead]) - star);
            else volts = has[3] && index == 0 ? strays[lead] : Phasor.Zero;
            _values[(index * ChannelCount) + lead] = volts;
        }
    }

    private void Replay(int index)
    {
        var delay = -120 * Solution.Orders[index];
        var offset = index * ChannelCount;
        if (Service.IsThreeWire)
        {
            // Star voltages of a replayed set: V12, V23, V31 are one waveform, a third of a cycle apart.
            var first = _values[offset] - _values[offset + 1];
            var (second, third) = (first.TurnedByDegrees(delay), first.TurnedByDegrees(2 * delay));
            _values[offset] = (first - third) / 3;
            _values[offset + 1] = (second - first) / 3;
            _values[offset + 2] = (third - second) / 3;
            return;
        }

        for (var lead = 1; lead < 3; lead++)
        {
            if (_exists[lead]) _values[offset + lead] = _values[offset + lead - 1].TurnedByDegrees(delay);
        }
    }

    private void FormLineToLine(int index)
    {
        var offset = index * ChannelCount;
        for (var channel = 0; channel < 3; channel++)
        {
            if (_exists[(int)Channel.V12 + channel])
                _values[offset + (int)Channel.V12 + channel] = _values[offset + channel] - _values[offset + ((channel + 1) % 3)];
        }
    }

    private void ConnectClamps(ReadOnlySpan<Phasor> noise)
    {
        foreach (var (clamp, place) in Hookup.Clamps)
        {
            var channel = (int)Channel.I1 + (int)clamp;
            _exists[channel] = true;
            if (!(place.Scale > 0)) throw new ArgumentException($"The scale of clamp {clamp} must be above zero; found {place.Scale}.");
            if (place.On is not { } on)
            {
                _values[channel] = place.Scale * noise[(int)clamp];
                continue;
            }

            RequireConductor(on, clamp.ToString());
            var factor = Instrument.ClampErrors.IsEmpty ? new Phasor(1, 0) : FactorOf(Instrument.ClampErrors.GetValueOrDefault(clamp));
            var square = 0.0;
            for (var index = 0; index < Solution.Orders.Length; index++)
                square += Solution.CurrentAt(index, on).SquaredMagnitude;
            var limit = _limits ? Instrument.OverloadFactor * Instrument.ClampRatingAmperes : double.MaxValue;
            var scale = place.Scale * Math.Min(1, limit / Math.Sqrt(Math.Max(square, double.Epsilon)));
            if (place.Reversed) scale = -scale;
            for (var index = 0; index < Solution.Orders.Length; index++)
                _values[(index * ChannelCount) + channel] = scale * (factor * Solution.CurrentAt(index, on));
        }
    }

    private Conductor RequireConductor(Conductor conductor, string input) =>
        conductor == Conductor.G || Service.Conductors.Contains(conductor)
            ? conductor
            : throw new ArgumentException($"{input} is on conductor {conductor}, which a {Service.Name} service doesn't have.");

    private static Phasor FactorOf(ChannelError error) => Phasor.FromDegrees(1 + error.GainFraction, error.AngleDegrees);
}
