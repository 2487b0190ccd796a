using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>Draws the loads of a simulated site.</summary>
/// <remarks>Each branch (line to neutral, or line to line on three-wire services) gets a target in watts and vars; rectifiers, motors
/// and drives take their share of it and an impedance takes the rest, so that the family's power factors hold.</remarks>
internal sealed class LoadDraw
{
    private readonly ServiceKind _service;
    private readonly LoadFamily _family;
    private readonly PanelSource _source;
    private readonly SeededRandom _random;
    private readonly ImmutableArray<(Conductor From, Conductor To)> _branches;
    private readonly double[] _watts;
    private readonly double[] _vars;
    private readonly List<PanelLoad> _loads = [];

    private LoadDraw(ServiceKind service, LoadFamily family, PanelSource source, SeededRandom random)
    {
        (_service, _family, _source, _random) = (service, family, source, random);
        _branches = service switch
        {
            ServiceKind.Split => [(Conductor.A, Conductor.N), (Conductor.B, Conductor.N)],
            ServiceKind.Single => [(Conductor.A, Conductor.N)],
            ServiceKind.Network => [(Conductor.A, Conductor.N), (Conductor.B, Conductor.N), (Conductor.A, Conductor.B)],
            ServiceKind.HighLeg => [.. PanelLoad.BranchesOf(service), .. SinglePhaseBranches(source.HighLeg)],
            _ => PanelLoad.BranchesOf(service),
        };
        _watts = new double[_branches.Length];
        _vars = new double[_branches.Length];
    }

    private bool IsThreePhase => Hookups.Service.Of(_service).IsThreePhase;

    /// <summary>The branches among which a balanced load divides; the rest are single-phase.</summary>
    private int BalancedCount => IsThreePhase ? 3 : _branches.Length;

    private bool IsThreeWire => _service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;

    public static ImmutableArray<PanelLoad> Draw(
        ServiceKind service, LoadFamily family, PanelSource source, double ratingAmperes, SeededRandom random)
    {
        var draw = new LoadDraw(service, family, source, random);
        draw.DrawTargets(ratingAmperes);
        draw.Fill();
        if (family == LoadFamily.Export) draw.AddGeneration();
        return [.. draw._loads];
    }

    /// <summary>Loads that come on and go off, one step each, besides those that are there; where it is asked for, the first ones
    /// on one branch after the other.</summary>
    public static ImmutableArray<PanelLoad> Steps(
        ServiceKind service, PanelSource source, double ratingAmperes, int count, double durationSeconds, bool onEveryBranch,
        SeededRandom random)
    {
        var places = new LoadDraw(service, LoadFamily.Ordinary, source, random)._branches;
        var steps = ImmutableArray.CreateBuilder<PanelLoad>(count);
        for (var number = 0; number < count; number++)
        {
            var drawn = random.Below(places.Length);
            var (from, to) = places[onEveryBranch && number < places.Length ? number : drawn];
            var watts = random.Uniform(0.03, 0.12) * ratingAmperes * source.Nominal.LineToNeutralVolts;
            var powerFactor = random.Chance(0.5) ? 1 : random.Uniform(0.6, 0.98);
            var at = durationSeconds * (number + random.Uniform(0.3, 0.7)) / count;
            steps.Add(PanelLoad.Between(
                "Switched load", source.Nominal, from, to, watts, PanelLoad.VarsOf(watts, powerFactor, PowerFactorSide.Lagging))
                .Switched(new LoadSchedule(random.Chance(0.5), [at])));
        }

        return steps.ToImmutable();
    }

    private void DrawTargets(double ratingAmperes)
    {
        var level = _family switch
        {
            LoadFamily.Light => _random.LogUniform(0.002, 0.015),
            LoadFamily.Export => _random.LogUniform(0.03, 0.15),
            _ => _random.LogUniform(0.05, 0.75),
        };

        // A delta branch carries its line's current over root three at root three times the voltage: the same volt-amperes.
        var voltAmperes = level * ratingAmperes * _source.Nominal.LineToNeutralVolts;
        var (lowest, highest) = _family switch
        {
            LoadFamily.Motors => (0.5, 0.9),
            LoadFamily.Leading => (0.7, 0.98),
            LoadFamily.Distorted => (0.85, 0.99),
            LoadFamily.Unbalanced => (0.75, 1.0),
            _ => (0.75, 0.99),
        };
        var spread = _family == LoadFamily.Motors ? 0.1 : 0.4;
        var weak = _random.Below(_branches.Length);
        var weakShare = _random.Uniform(0.05, 0.3);
        var common = Math.Acos(_random.Uniform(lowest, highest));
        var single = _service is ServiceKind.HighLeg or ServiceKind.Network ? _random.NextUnit() : 0;
        for (var branch = 0; branch < _branches.Length; branch++)
        {
            var share = _random.Uniform(1 - spread, 1 + spread);
            if (_family != LoadFamily.Unbalanced) share *= ShareOf(branch, single);
            var own = Math.Acos(_random.Uniform(lowest, highest));
            var near = Math.Clamp(common + (5 * Math.PI / 180 * _random.Gaussian()), Math.Acos(highest), Math.Acos(lowest));
            var angle = _family == LoadFamily.Unbalanced ? own : near;
            if (_family == LoadFamily.Unbalanced && _branches.Length > 1) share = ShareOf(branch, single) * (branch == weak ? weakShare : _random.Uniform(0.85, 1.15));
            if (_family == LoadFamily.Leading) angle = -angle;
            _watts[branch] = voltAmperes * share * Math.Cos(angle);
            _vars[branch] = voltAmperes * share * Math.Sin(angle);
        }
    }

    /// <summary>How much of the whole a branch gets, on services with branches of two kinds.</summary>
    /// <param name="branch">Number of the branch.</param>
    /// <param name="single">0 to 1: high-leg, how much of the load is single-phase; network, how much goes from line to line.</param>
    private double ShareOf(int branch, double single) => _service switch
    {
        // The lines of a high-leg service carry three-phase load, from a tenth to all of it.
        ServiceKind.HighLeg => branch < 3 ? 1 - (0.9 * single) : branch < 5 ? single : 0.4 * single,
        ServiceKind.Network => branch < 2 ? 1 : 0.6 * single,
        _ => 1,
    };

    private static ImmutableArray<(Conductor From, Conductor To)> SinglePhaseBranches(Conductor highLeg)
    {
        var (first, second) = highLeg switch
        {
            Conductor.A => (Conductor.B, Conductor.C),
            Conductor.C => (Conductor.A, Conductor.B),
            _ => (Conductor.A, Conductor.C),
        };
        return [(first, Conductor.N), (second, Conductor.N), (first, second)];
    }

    private void Fill()
    {
        var rectifierShare = _family switch
        {
            LoadFamily.Motors => _random.Uniform(0, 0.03),
            LoadFamily.Unbalanced => _random.Uniform(0, 0.3),
            LoadFamily.Distorted => _random.Uniform(0.2, 0.55),
            _ => _random.Uniform(0, 0.15),
        };
        var motorShare = _family switch
        {
            LoadFamily.Motors => _random.Uniform(0.7, 0.95),
            LoadFamily.Unbalanced or LoadFamily.Leading => 0,
            LoadFamily.Distorted => _random.Uniform(0, 0.1),
            _ => _random.Uniform(0, 0.4),
        };
        var driveShare = _family == LoadFamily.Distorted ? _random.Uniform(0.05, 0.3) : 0;
        var smallest = SmallestIndex();
        var (left, leftVars) = ((double[])_watts.Clone(), (double[])_vars.Clone());
        if (IsThreePhase && motorShare > 0) AddMotor(motorShare, smallest, left, leftVars);
        if (IsThreePhase && driveShare > 0) AddDrive(driveShare * _watts[smallest], left, leftVars);

        for (var branch = 0; branch < _branches.Length; branch++)
        {
            // Single-phase electronics is seldom between lines.
            var isBetweenLines = IsThreeWire || (_service is ServiceKind.HighLeg or ServiceKind.Network && _branches[branch].To != Conductor.N);
            var watts = (isBetweenLines ? 0.3 : 1) * rectifierShare * _watts[branch];
            if (watts <= 0 || watts >= left[branch]) continue;
            var lead = _random.Uniform(0, 10);
            _loads.Add(PanelLoad.Rectifier(_branches[branch].From, _branches[branch].To, watts, lead));
            left[branch] -= watts;
            leftVars[branch] += watts * Math.Tan(lead * Math.PI / 180);
        }

        if (_family == LoadFamily.Leading) AddCapacitors(left, leftVars);
        for (var branch = 0; branch < _branches.Length; branch++)
        {
            var (from, to) = _branches[branch];
            _loads.Add(PanelLoad.Between("Load", _source.Nominal, from, to, Math.Max(0, left[branch]), leftVars[branch]));
        }
    }

    private void AddMotor(double share, int smallest, double[] left, double[] leftVars)
    {
        var (watts, vars) = (share * _watts[smallest], share * _vars[smallest]);
        _loads.Add(PanelLoad.Motor(_source.Nominal, 3 * watts, watts / Math.Sqrt((watts * watts) + (vars * vars))));
        for (var branch = 0; branch < 3; branch++)
        {
            left[branch] -= watts;
            leftVars[branch] -= vars;
        }
    }

    private void AddDrive(double watts, double[] left, double[] leftVars)
    {
        var lag = _random.Uniform(0, 12);
        _loads.Add(PanelLoad.Drive(3 * watts, lag));
        for (var branch = 0; branch < 3; branch++)
        {
            left[branch] -= watts;
            leftVars[branch] -= watts * Math.Tan(lag * Math.PI / 180);
        }
    }

    /// <summary>The load behind the capacitors lags; they turn it round.</summary>
    private void AddCapacitors(double[] left, double[] leftVars)
    {
        for (var branch = 0; branch < _branches.Length; branch++)
        {
            var lagging = left[branch] * Math.Tan(Math.Acos(_random.Uniform(0.75, 0.95)));
            var (from, to) = _branches[branch];
            _loads.Add(PanelLoad.Between("Capacitor", _source.Nominal, from, to, 0, leftVars[branch] - lagging));
            leftVars[branch] = lagging;
        }
    }

    private void AddGeneration()
    {
        var isEverywhere = _branches.Length == 1 || _random.Chance(0.6);
        var vars = Math.Tan(_random.Uniform(-6, 6) * Math.PI / 180);
        if (isEverywhere && IsThreePhase)
        {
            var watts = _random.Uniform(1.3, 4) * _watts.Max();
            _loads.Add(PanelLoad.Generation(_service, 3 * watts, 3 * watts * vars));
            return;
        }

        var count = isEverywhere ? _branches.Length : 1 + _random.Below(_branches.Length - 1);
        var first = _random.Below(_branches.Length);
        for (var number = 0; number < count; number++)
        {
            var branch = (first + number) % _branches.Length;
            var watts = _random.Uniform(1.3, 4) * _watts[branch];
            _loads.Add(PanelLoad.Generation(_branches[branch].From, _branches[branch].To, watts, watts * vars));
        }
    }

    private int SmallestIndex()
    {
        var smallest = 0;
        for (var branch = 1; branch < BalancedCount; branch++)
            if (_watts[branch] < _watts[smallest]) smallest = branch;
        return smallest;
    }
}
