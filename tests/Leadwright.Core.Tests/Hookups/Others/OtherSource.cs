using System.Numerics;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Tests.Hookups.Others;

/// <summary>A load between two conductors, or from a line to the neutral.</summary>
/// <param name="From">The conductor its current comes from; 0 to 3 for A, B, C, N.</param>
/// <param name="To">The conductor its current goes back through.</param>
/// <param name="Power">What it takes at nominal voltage, VA; the imaginary part is above zero when it lags, the real one below zero when it sends power back.</param>
/// <param name="IsImpedance">True when it is a constant impedance, false when its power stays the same whatever the voltage.</param>
/// <param name="Harmonics">What it injects: order, share of its fundamental, degrees against the crest of its own voltage's fundamental.</param>
internal sealed record OtherLoad(int From, int To, Complex Power, bool IsImpedance, (int Order, double Share, double Degrees)[] Harmonics);

/// <summary>Phasors of the four conductors, order by order: potentials in volts, currents toward the load in amperes.</summary>
internal sealed record OtherState(int[] Orders, Complex[][] Potentials, Complex[][] Currents);

/// <summary>A supply: four voltages behind four impedances, any of them nothing at all.</summary>
/// <remarks>Written for the check of the check: it shares no arithmetic with <c>Leadwright.Core.Panels</c>, by which the check was tuned.</remarks>
internal sealed class OtherSource(ServiceKind service, double lineToNeutral, double hertz, Complex[] volts, Complex[] impedances, (int Order, double Share, double Degrees)[] background)
{
    public double Hertz => hertz;

    public double LineToNeutral => lineToNeutral;

    /// <summary>Volts of an ideal supply, to neutral (three wires: to the star's centre).</summary>
    public static Complex[] Ideal(ServiceKind service, double lineToNeutral, bool acb)
    {
        var lag = acb ? 120 : -120;
        return service switch
        {
            ServiceKind.Split => [lineToNeutral, -lineToNeutral, 0, 0],
            ServiceKind.Single => [lineToNeutral, 0, 0, 0],
            // The high leg stands square on the two others, √3 times as far from the middle of their winding.
            ServiceKind.HighLeg => [lineToNeutral, Polar(lineToNeutral * Math.Sqrt(3), lag * 0.75), -lineToNeutral, 0],
            ServiceKind.Network => [lineToNeutral, Polar(lineToNeutral, lag), 0, 0],
            _ => [lineToNeutral, Polar(lineToNeutral, lag), Polar(lineToNeutral, -lag), 0],
        };
    }

    /// <summary>Voltages and currents with each load switched in to some part, all supply voltages raised by a share.</summary>
    public OtherState Solve(IReadOnlyList<OtherLoad> loads, double[] parts, double rise)
    {
        var ideal = Ideal(service, lineToNeutral, false);
        var potentials = new Complex[4];
        var currents = new Complex[4];
        for (var conductor = 0; conductor < 4; conductor++) potentials[conductor] = volts[conductor] * (1 + rise);
        var taken = new Complex[loads.Count];
        for (var round = 0; round < 80; round++)
        {
            Array.Clear(currents);
            for (var index = 0; index < loads.Count; index++)
            {
                var load = loads[index];
                var across = potentials[load.From] - potentials[load.To];
                var nominal = (ideal[load.From] - ideal[load.To]).Magnitude;
                taken[index] = parts[index] * (load.IsImpedance
                    ? across * Complex.Conjugate(load.Power) / (nominal * nominal)
                    : Complex.Conjugate(load.Power / across));
                currents[load.From] += taken[index];
                currents[load.To] -= taken[index];
            }

            for (var conductor = 0; conductor < 4; conductor++)
                potentials[conductor] = (volts[conductor] * (1 + rise)) - (impedances[conductor] * currents[conductor]);
        }

        int[] orders = [1, .. loads.SelectMany(load => load.Harmonics).Concat(background).Select(line => line.Order).Distinct().Order()];
        var allPotentials = new Complex[orders.Length][];
        var allCurrents = new Complex[orders.Length][];
        (allPotentials[0], allCurrents[0]) = (potentials, currents);
        for (var at = 1; at < orders.Length; at++)
        {
            var order = orders[at];
            var flow = new Complex[4];
            for (var index = 0; index < loads.Count; index++)
            {
                var across = potentials[loads[index].From] - potentials[loads[index].To];
                foreach (var line in loads[index].Harmonics)
                {
                    if (line.Order != order) continue;
                    var injected = Polar(taken[index].Magnitude * line.Share, (order * across.Phase * 180 / Math.PI) + line.Degrees);
                    flow[loads[index].From] += injected;
                    flow[loads[index].To] -= injected;
                }
            }

            var stand = new Complex[4];
            for (var conductor = 0; conductor < 4; conductor++)
            {
                foreach (var line in background)
                {
                    if (line.Order == order && volts[conductor] != 0)
                        stand[conductor] += Polar(volts[conductor].Magnitude * line.Share, (order * volts[conductor].Phase * 180 / Math.PI) + line.Degrees);
                }

                stand[conductor] -= new Complex(impedances[conductor].Real, order * impedances[conductor].Imaginary) * flow[conductor];
            }

            (allPotentials[at], allCurrents[at]) = (stand, flow);
        }

        return new OtherState(orders, allPotentials, allCurrents);
    }

    public static Complex Polar(double size, double degrees) => Complex.FromPolarCoordinates(size, degrees * Math.PI / 180);
}
