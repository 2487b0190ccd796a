using Leadwright.Core.Circuits;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Panels.Disturbances;

/// <summary>Records a virtual site: three voltages to neutral and three currents toward the load, as samples.</summary>
/// <remarks>Nodes 0 to 2 stand at the neighbour, 3 to 5 at the recorder, 6 to 8 at the load, 9 and 10 are the star points of the running and of the starting motor. Two steps a sample.</remarks>
public static class DisturbanceRecorder
{
    private const int Ahead = 0, Here = 3, Behind = 6, RunningStar = 9, StartingStar = 10, Nodes = 11, StepsPerSample = 2;
    private const double Peak = 325.269119345812;

    /// <summary>Records a site.</summary>
    /// <param name="site">It.</param>
    /// <returns>Frames of eight lanes (<see cref="Lane"/>), volts and amperes.</returns>
    public static float[] Record(DisturbanceSite site)
    {
        ArgumentNullException.ThrowIfNull(site);
        var step = 1 / (site.RateHertz * StepsPerSample);
        var network = new BranchNetwork(Nodes, step);
        var radians = 2 * Math.PI * site.NominalHertz;
        Branch Add(int from, int to, (double Ohms, double Reactance) part) => network.Add(new Branch(from, to, part.Ohms, part.Reactance / radians));
        var (sources, feeders) = (new Branch[3], new Branch[3]);
        var (first, second) = (Scaled(site.Source, site.NeighbourShare), Scaled(site.Source, 1 - site.NeighbourShare));
        Branch[] running = new Branch[3];
        for (var phase = 0; phase < 3; phase++)
        {
            sources[phase] = Add(Ahead + phase, -1, first);
            Add(Ahead + phase, Here + phase, second);
            feeders[phase] = Add(Here + phase, Behind + phase, site.Feeder);
            Add(Ahead + phase, -1, site.Neighbour);
            Add(Behind + phase, -1, site.Load[phase]);
            if (site.MotorReactance > 0) running[phase] = Add(Behind + phase, RunningStar, (0.1 * site.MotorReactance, site.MotorReactance));
        }

        var happening = new Happening(site, network);
        var random = new SeededRandom(site.Seed);
        var count = (int)(site.Seconds * site.RateHertz);
        var frames = new float[count * Lane.Count];
        var amperes = Peak / Math.Max(site.Load[0].Ohms, 1e-6);
        for (var sample = 0; sample < count; sample++)
        {
            for (var part = 1; part <= StepsPerSample; part++)
            {
                var time = ((sample * StepsPerSample) + part) * step;
                for (var phase = 0; phase < 3; phase++)
                {
                    sources[phase].Source = SourceAt(site, phase, time);
                    // The motor's own voltage lags a little and holds while the supply dips.
                    if (running[phase] is { } motor) motor.Source = 0.9 * Peak * Math.Cos((2 * Math.PI * site.Hertz * time) - (2 * Math.PI * phase / 3) - 0.15);
                }

                happening.Advance(time, step);
                network.Advance();
            }

            for (var phase = 0; phase < 3; phase++)
            {
                frames[(sample * Lane.Count) + phase] = (float)(network.Volts[Here + phase] + (site.Noise * Peak * random.Gaussian()));
                frames[(sample * Lane.Count) + phase + Lane.VoltageCount] = (float)(feeders[phase].Current + (site.Noise * amperes * random.Gaussian()));
            }
        }

        return frames;
    }

    private static (double Ohms, double Reactance) Scaled((double Ohms, double Reactance) part, double factor) => (part.Ohms * factor, part.Reactance * factor);

    private static double SourceAt(DisturbanceSite site, int phase, double time)
    {
        var angle = 2 * Math.PI * site.Hertz * time;
        var own = angle - (2 * Math.PI * phase / 3);
        var isDip = site.Kind == DisturbanceKind.SupplyDip && time >= site.StartSeconds && time < site.StartSeconds + site.FaultSeconds;
        var fundamental = Math.Cos(own);
        if (isDip)
        {
            var shape = DipShape.Of(site.Letter, Phasor.FromDegrees(site.Characteristic.Fraction, site.Characteristic.Degrees), site.Phase)[phase];
            fundamental = (shape.Real * Math.Cos(angle)) - (shape.Imaginary * Math.Sin(angle));
        }

        return Peak * (fundamental + (site.Harmonics.Fifth * Math.Cos(5 * own)) + (site.Harmonics.Seventh * Math.Cos((7 * own) + 1)));
    }

    /// <summary>The part of the network that is switched.</summary>
    private sealed class Happening
    {
        private readonly DisturbanceSite _site;
        private readonly List<Branch> _parts = [];
        private readonly double[] _last;
        private double _slip = 1;
        private double _inertia;

        public Happening(DisturbanceSite site, BranchNetwork network)
        {
            _site = site;
            var radians = 2 * Math.PI * site.NominalHertz;
            var node = site.IsAhead ? Ahead : Behind;
            switch (site.Kind)
            {
                case DisturbanceKind.NeighbourFault or DisturbanceKind.FeederFault when site.FaultPhases == 2:
                    _parts.Add(new Branch(node + site.Phase, node + ((site.Phase + 1) % 3), site.FaultOhms, 0));
                    break;
                case DisturbanceKind.NeighbourFault or DisturbanceKind.FeederFault:
                    for (var phase = 0; phase < site.FaultPhases; phase++) _parts.Add(new Branch(node + ((site.Phase + phase) % 3), -1, site.FaultOhms, 0));
                    break;
                case DisturbanceKind.MotorStart or DisturbanceKind.NeighbourMotorStart:
                    for (var phase = 0; phase < 3; phase++) _parts.Add(new Branch(node + phase, StartingStar, site.Starting.Stator + site.Starting.Rotor, site.Starting.Reactance / radians));
                    _inertia = RunUp(site);
                    break;
                case DisturbanceKind.TransformerEnergising or DisturbanceKind.NeighbourTransformer:
                    for (var phase = 0; phase < 3; phase++)
                    {
                        _parts.Add(new Branch(node + phase, -1, site.Core.Ohms, site.Core.Reactance / radians)
                        {
                            KneeFlux = site.Core.Knee * Peak / radians, Flux = site.Remanence[phase] * Peak / radians,
                        });
                    }

                    break;
                case DisturbanceKind.CapacitorAhead or DisturbanceKind.CapacitorBehind:
                    for (var phase = 0; phase < 3; phase++) _parts.Add(new Branch(node + phase, -1, site.Bank.Ohms, 1e-3 * site.Bank.Reactance / radians, 1 / (radians * site.Bank.Reactance)));
                    break;
            }

            _last = new double[_parts.Count];
            foreach (var part in _parts)
            {
                part.IsClosed = false;
                network.Add(part);
            }
        }

        public void Advance(double time, double step)
        {
            for (var at = 0; at < _parts.Count; at++)
            {
                var part = _parts[at];
                var delay = at switch { 1 => _site.Stagger.Second, 2 => _site.Stagger.Third, _ => 0 };
                if (_site.Kind is DisturbanceKind.NeighbourFault or DisturbanceKind.FeederFault)
                {
                    // A breaker lets go where the current passes through zero.
                    var isOver = time >= _site.StartSeconds + _site.FaultSeconds;
                    if (!isOver) part.IsClosed = time >= _site.StartSeconds;
                    else if (part.IsClosed && part.Current * _last[at] <= 0) part.IsClosed = false;
                    _last[at] = part.Current;
                }
                else
                {
                    part.IsClosed = time >= _site.StartSeconds + (_site.Kind is DisturbanceKind.CapacitorAhead or DisturbanceKind.CapacitorBehind ? delay : 0);
                }
            }

            if (_site.Kind is not (DisturbanceKind.MotorStart or DisturbanceKind.NeighbourMotorStart) || time < _site.StartSeconds) return;
            var rotor = _site.Starting.Rotor / _slip;
            var power = _parts.Sum(part => part.Current * part.Current * rotor);
            _slip = Math.Max(_slip - (step * power / _inertia), 0.025);
            foreach (var part in _parts) part.Ohms = _site.Starting.Stator + (_site.Starting.Rotor / _slip);
        }

        // The inertia with which the motor runs up in its time at full voltage.
        private static double RunUp(DisturbanceSite site)
        {
            const int Steps = 400;
            var sum = 0.0;
            for (var at = 0; at < Steps; at++)
            {
                var slip = 0.03 + ((at + 0.5) * 0.97 / Steps);
                var (ohms, power) = (site.Starting.Stator + (site.Starting.Rotor / slip), 0.0);
                power = 3 * 230 * 230 / ((ohms * ohms) + (site.Starting.Reactance * site.Starting.Reactance)) * site.Starting.Rotor / slip;
                sum += 0.97 / Steps / power;
            }

            return site.Starting.Seconds / sum;
        }
    }
}
