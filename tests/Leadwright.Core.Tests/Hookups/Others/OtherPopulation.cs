using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Tests.Hookups.Others;

/// <summary>How a case is read.</summary>
internal enum OtherMedium
{
    /// <summary>Phasors typed from a screen.</summary>
    Typed,

    /// <summary>Two to ten seconds of samples, loads switching or not.</summary>
    Sampled,

    /// <summary>Some hundred intervals of a log.</summary>
    Logged,
}

/// <summary>What kind of load a case has.</summary>
internal enum OtherSite
{
    /// <summary>Lagging or in phase.</summary>
    Usual,

    /// <summary>Leading, down to 0.95.</summary>
    Leading,

    /// <summary>A hundredth of the rating.</summary>
    Light,

    /// <summary>Power flows back.</summary>
    Export,
}

/// <summary>One case.</summary>
internal sealed record OtherCase(
    ServiceKind Service, OtherSite Site, string[] Slips, Hookup Truth, Rotation Rotation, PanelReadings Readings, CheckOptions Options);

/// <summary>Panels by another hand than <c>Leadwright.Core.Panels</c>: crude and clean ones, as somebody might make them who wants to try the check.</summary>
/// <remarks>Voltages may be perfectly alike and perfectly stiff, loads plain powers, samples without any noise; open leads read exactly
/// nothing, a ghost voltage or the middle of the others.</remarks>
internal sealed class OtherPopulation(ServiceKind service, OtherMedium medium, OtherSite site, int seed)
{
    private static readonly (int, double, double)[] s_none = [];
    private static readonly (int, double, double)[] s_rectifier = [(3, 0.75, 180), (5, 0.5, 0), (7, 0.25, 180), (9, 0.1, 0)];
    private static readonly (int, double, double)[] s_sixPulse = [(5, 0.25, 180), (7, 0.12, 180), (11, 0.07, 0), (13, 0.05, 0)];

    /// <param name="number">Number of the case.</param>
    /// <param name="isRight">True for right hook-ups alone.</param>
    public OtherCase Case(int number, bool isRight = false)
    {
        var random = new Random(HashCode(seed, (int)service, (int)medium, (int)site, number));
        var isFifty = random.NextDouble() < 0.5;
        var nominal = Pick(random, service switch
        {
            ServiceKind.Split or ServiceKind.HighLeg => [new NominalVoltage(120, 240)],
            ServiceKind.Single => [new(230, 230), new(120, 120)],
            ServiceKind.Network => [new(120, 208), new(230, 400)],
            _ => new NominalVoltage[] { new(230, 400), new(120, 208), new(277, 480) },
        });
        var acb = Service.Of(service).HasRotation && random.NextDouble() < 0.1;
        var source = Source(random, nominal, isFifty ? 50 : 60, acb, out var ampereRating);
        var loads = Loads(random, nominal, ampereRating, out var switched);
        var hasNeutralClamp = Service.Of(service).Conductors.Contains(Conductor.N) && service != ServiceKind.Single && random.NextDouble() < 0.4;
        var truth = Slipped(random, hasNeutralClamp, isRight, out var slips);
        var gain = Pick(random, [0, 0.002, 0.005, 0.01]);
        var angle = Pick(random, [0, 0.3, 1, 2]);
        var errors = new Dictionary<Channel, Complex>();
        foreach (var channel in Enum.GetValues<Channel>())
            errors[channel] = OtherSource.Polar(1 + (gain * Within(random)), channel >= Channel.I1 ? angle * Within(random) : 0);
        var ghost = OtherSource.Polar(0.02 + (0.13 * random.NextDouble()), 360 * random.NextDouble());
        var idle = random.NextDouble() < 0.5 ? 0 : ampereRating * 0.002 * random.NextDouble();
        var meter = new OtherMeter(service, nominal.LineToNeutralVolts, truth, (OtherOpen)random.Next(3), ghost, errors, idle);
        var options = new CheckOptions { MayExport = site == OtherSite.Export };
        var readings = medium switch
        {
            OtherMedium.Typed => OtherReadings.Typed(service, nominal, source, loads, switched, meter, random),
            OtherMedium.Sampled => OtherReadings.Sampled(service, nominal, source, loads, switched, meter, ampereRating, random),
            _ => OtherReadings.Logged(service, nominal, source, loads, switched, meter, random),
        };
        return new OtherCase(service, site, slips, truth, acb ? Rotation.Acb : Rotation.Abc, readings, options);
    }

    private OtherSource Source(Random random, NominalVoltage nominal, double hertz, bool acb, out double rating)
    {
        rating = Pick(random, [20.0, 50, 100, 400]);
        var volts = OtherSource.Ideal(service, nominal.LineToNeutralVolts, acb);
        var unbalance = Pick(random, [0, 0, 0.005, 0.015]);
        for (var conductor = 0; conductor < 3; conductor++)
            volts[conductor] *= OtherSource.Polar(1 + (unbalance * Within(random)), 60 * unbalance * Within(random));
        var level = 1 + (Pick(random, [0, 0.01, 0.04]) * Within(random));
        for (var conductor = 0; conductor < 3; conductor++) volts[conductor] *= level;
        // Drop at the rating, as a share of nominal: none at all now and then.
        var drop = Pick(random, [0, 0.002, 0.01, 0.02, 0.04]);
        var ratio = Pick(random, [0.05, 0.5, 1.5]);
        var unit = drop * nominal.LineToNeutralVolts / rating / Math.Sqrt(1 + (ratio * ratio));
        var isAlike = random.NextDouble() < 0.7;
        var impedances = new Complex[4];
        for (var conductor = 0; conductor < 4; conductor++)
            impedances[conductor] = unit * new Complex(1, ratio) * (isAlike ? 1 : 0.5 + random.NextDouble()) * (conductor == 3 ? Pick(random, [0.0, 1, 2]) : 1);
        (int, double, double)[] background = random.NextDouble() < 0.5 ? s_none : [(5, 0.02, 180), (7, 0.01, 0)];
        var exact = hertz + (random.NextDouble() < 0.5 ? 0 : 0.04 * Within(random));
        return new OtherSource(service, nominal.LineToNeutralVolts, exact, volts, impedances, background);
    }

    private List<OtherLoad> Loads(Random random, NominalVoltage nominal, double rating, out List<OtherLoad> switched)
    {
        var loads = new List<OtherLoad>();
        switched = [];
        var amount = rating * nominal.LineToNeutralVolts * (site == OtherSite.Light ? 0.01 : 0.1 + (0.7 * random.NextDouble()));
        var factor = DrawnFactor(random);
        var isShared = random.NextDouble() < 0.7;
        var spread = Pick(random, [0, 0.2, 0.6]);
        var harmonics = Pick(random, [s_none, s_none, s_rectifier, s_sixPulse]);
        var scale = harmonics == s_rectifier ? 0.3 : 1;
        var isImpedance = random.NextDouble() < 0.4;
        foreach (var (from, to, share) in Pairs(random))
            loads.Add(Load(from, to, share * amount * (1 + (spread * Within(random))), isShared ? factor : DrawnFactor(random), isImpedance));
        // Loads that a recording switches: one line's, two lines', or all of them.
        for (var count = 0; count < 8; count++)
        {
            var size = amount * (0.05 + (0.4 * random.NextDouble())) * (site == OtherSite.Export ? -1 : 1);
            var pairs = Pairs(random);
            var (from, to, _) = pairs[random.Next(pairs.Length)];
            switched.Add(Load(from, to, size, Turned(0.7 + (0.3 * random.NextDouble()), false), random.NextDouble() < 0.5));
        }

        return loads;

        OtherLoad Load(int from, int to, double watts, Complex unit, bool impedance) => new(
            from, to, watts * unit / Math.Max(0.3, Math.Abs(unit.Real)), impedance,
            [.. harmonics.Select(line => (line.Item1, line.Item2 * scale, line.Item3))]);
    }

    private Complex DrawnFactor(Random random) => site switch
    {
        OtherSite.Leading => Turned(0.95 + (0.05 * random.NextDouble()), true),
        OtherSite.Export => -Turned(0.95 + (0.05 * random.NextDouble()), random.NextDouble() < 0.5),
        _ => Turned(Pick(random, [1.0, 0.6 + (0.4 * random.NextDouble()), 0.8 + (0.2 * random.NextDouble()), 0.8 + (0.2 * random.NextDouble())]), false),
    };

    private static Complex Turned(double factor, bool leads) => new(factor, (leads ? -1 : 1) * Math.Sqrt(Math.Max(0, 1 - (factor * factor))));

    private (int From, int To, double Share)[] Pairs(Random random) => service switch
    {
        ServiceKind.Wye => random.NextDouble() < 0.8 ? [(0, 3, 1), (1, 3, 1), (2, 3, 1)] : [(0, 1, 1), (1, 2, 1), (2, 0, 1)],
        ServiceKind.HighLeg => [(0, 3, 0.7), (2, 3, 0.7), (0, 1, 0.8), (1, 2, 0.8), (2, 0, 0.8)],
        ServiceKind.Split => random.NextDouble() < 0.8 ? [(0, 3, 1), (1, 3, 1)] : [(0, 3, 0.7), (1, 3, 0.7), (0, 1, 0.7)],
        ServiceKind.Network => [(0, 3, 1), (1, 3, 1)],
        ServiceKind.Single => [(0, 3, 1)],
        _ => [(0, 1, 1), (1, 2, 1), (2, 0, 1)],
    };

    private Hookup Slipped(Random random, bool hasNeutralClamp, bool isRight, out string[] slips)
    {
        var layout = Service.Of(service);
        var hookup = Hookup.Expected(layout.Leads, hasNeutralClamp ? [.. layout.Clamps, Clamp.IN] : layout.Clamps);
        slips = [];
        var draw = random.NextDouble();
        if (isRight || draw < 0.25) return hookup;
        if (draw < 0.32 && service is ServiceKind.Wye or ServiceKind.Delta)
        {
            slips = ["all moved round"];
            return OtherSlips.AllRotated(service, hookup, 1 + random.Next(2));
        }

        var wanted = draw < 0.8 ? 1 : draw < 0.94 ? 2 : 3;
        var names = OtherSlips.Of(service, hasNeutralClamp);
        var made = new List<string>();
        for (var tries = 0; made.Count < wanted && tries < 50; tries++)
        {
            var name = names[random.Next(names.Length)];
            if (OtherSlips.Make(name, service, hookup, random) is not { } next || next.Equals(hookup)) continue;
            hookup = next;
            made.Add(name);
        }

        slips = [.. made];
        return hookup;
    }

    private static T Pick<T>(Random random, T[] among) => among[random.Next(among.Length)];

    private static double Within(Random random) => (2 * random.NextDouble()) - 1;

    // The same on every run, unlike the framework's own.
    private static int HashCode(params int[] parts) => parts.Aggregate(17, (hash, part) => unchecked((hash * 1_000_003) ^ (part * 7919)));
}
