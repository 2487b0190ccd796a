using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>A panel that exists only in numbers: a supply, the loads on it, and what its conductors then do.</summary>
/// <remarks>Made for tests, exercises and demonstration. It shares no arithmetic with the check of hook-ups, so that
/// neither can hide the other's mistakes.</remarks>
public sealed class VirtualPanel
{
    private const int MostIterations = 100;
    private readonly ulong _orderMask;

    /// <summary>Puts loads on a supply.</summary>
    /// <exception cref="ArgumentException">The supply's frequency is not above zero, its rotation is not stated, or a load
    /// needs a conductor that the service lacks.</exception>
    public VirtualPanel(ServiceKind service, PanelSource source, params ImmutableArray<PanelLoad> loads)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (!double.IsFinite(source.FrequencyHertz) || source.FrequencyHertz <= 0)
            throw new ArgumentException($"The frequency must be above zero; found {source.FrequencyHertz} Hz.", nameof(source));
        if (source.Rotation == Rotation.Unknown)
            throw new ArgumentException("A simulated supply has a known rotation: state A-B-C or A-C-B.", nameof(source));
        Service = service;
        Source = source;
        Loads = loads;
        var conductors = Hookups.Service.Of(service).Conductors;
        _orderMask = source.Background.OrderMask;
        foreach (var load in loads)
        {
            _orderMask |= load.OrderMask;
            foreach (var part in load.Parts)
            {
                foreach (var conductor in part.Conductors)
                {
                    if (!conductors.Contains(conductor))
                    {
                        throw new ArgumentException(
                            $"'{load.Name}' is on conductor {conductor}, which a {service} service doesn't have.", nameof(loads));
                    }
                }
            }
        }
    }

    /// <summary>The kind of service.</summary>
    public ServiceKind Service { get; }

    /// <summary>The supply.</summary>
    public PanelSource Source { get; }

    /// <summary>The loads.</summary>
    public ImmutableArray<PanelLoad> Loads { get; }

    /// <summary>The steady state with those loads on that are on at a time.</summary>
    /// <param name="atSeconds">The time, for the loads' schedules and the supply's changes. Default 0.</param>
    /// <exception cref="InvalidOperationException">The source is too weak for the loads: there is no steady state.</exception>
    public PanelSolution Solve(double atSeconds = 0) => Solve(atSeconds, 0, 0, 0);

    /// <summary>The steady state, with the lines' sources higher by some fractions of nominal.</summary>
    internal PanelSolution Solve(double atSeconds, double riseA, double riseB, double riseC)
    {
        var on = new List<PanelLoad>(Loads.Length);
        foreach (var load in Loads)
        {
            if (load.Schedule.IsOnAt(atSeconds)) on.Add(load);
        }

        var network = new Network(Service, Source);
        var common = Source.History.FractionAt(atSeconds);
        Span<Phasor> source = stackalloc Phasor[4];
        source[0] = SourceOf(Conductor.A, common + riseA);
        source[1] = SourceOf(Conductor.B, common + riseB);
        source[2] = SourceOf(Conductor.C, common + riseC);
        if (Service == ServiceKind.HighLeg) ReferToTap(source);
        source[3] = Phasor.Zero;

        var solution = new PanelSolution(this, _orderMask);
        SolveFundamental(network, on, source, atSeconds);
        solution.Take(0, network, Source.EarthedCorner is { } corner ? network.Potential(corner) : -Source.GroundOffset);
        network.KeepFundamentals();

        Span<Phasor> harmonic = stackalloc Phasor[4];
        for (var index = 1; index < solution.Orders.Length; index++)
        {
            var order = solution.Orders[index];
            network.Begin(order);
            network.ClearDrawn();
            foreach (var load in on)
            {
                foreach (var part in load.Parts)
                {
                    part.Connect(network);
                    part.DrawHarmonic(network);
                }
            }

            var line = Source.Background.LineOf(order);
            harmonic.Clear();
            for (var row = 0; row < 3; row++)
            {
                harmonic[row] = Phasor.FromRadians(
                    line.Fraction * source[row].Magnitude, (order * source[row].AngleRadians) + (line.AngleDegrees * Math.PI / 180));
            }

            network.Factor();
            network.Solve(harmonic);
            solution.Take(index, network, Source.EarthedCorner is { } earthed ? network.Potential(earthed) : Phasor.Zero);
        }

        return solution;
    }

    private static void SolveFundamental(Network network, List<PanelLoad> on, ReadOnlySpan<Phasor> source, double atSeconds)
    {
        network.Begin(1);
        network.SetPotentials(source);
        foreach (var load in on)
        {
            foreach (var part in load.Parts) part.Connect(network);
        }

        network.Factor();
        var tolerance = 1e-12 * network.Source.Nominal.LineToNeutralVolts;
        for (var iteration = 0; iteration < MostIterations; iteration++)
        {
            network.ClearDrawn();
            foreach (var load in on)
            {
                foreach (var part in load.Parts) part.DrawFundamental(network);
            }

            // Not below: a NaN means that a voltage collapsed to nothing.
            if (network.Solve(source) <= tolerance) return;
        }

        throw new InvalidOperationException(
            $"The loads that are on at {atSeconds:0.###} s are too large for the supply: its voltage collapses. "
            + "Lower the source impedance or the loads.");
    }

    /// <summary>From the centre of the lines to the neutral of a high-leg service: the middle of the winding between the two lines that
    /// are not the high leg.</summary>
    private void ReferToTap(Span<Phasor> source)
    {
        var high = (int)Source.HighLeg;
        var tap = 0.5 * (source[(high + 1) % 3] + source[(high + 2) % 3]);
        for (var line = 0; line < 3; line++) source[line] -= tap;
    }

    private Phasor SourceOf(Conductor line, double rise)
    {
        if (!Hookups.Service.Of(Service).Conductors.Contains(line)) return Phasor.Zero;
        var deviation = Source.DeviationOf(line);
        return Phasor.FromDegrees(
            Source.LineToCentreVolts(Service) * (1 + deviation.Fraction + rise),
            Source.IdealAngleDegrees(Service, line) + deviation.AngleDegrees);
    }
}
