using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>The source behind a virtual week: slow drift, the day's swing, tap changes, unbalance, and what goes dead.</summary>
/// <remarks>Sizes are assumed to be those of ordinary low-voltage supplies: common practice, no source.</remarks>
internal sealed class WeekSupply
{
    private readonly WeekRecipe _recipe;
    private readonly SeededRandom _random;
    private readonly Phasor[] _ideal = new Phasor[3];
    private readonly double[] _fixed = new double[3];
    private readonly double[] _drift = new double[3];
    private readonly Mishap[] _events;
    private readonly double _swing;
    private readonly double _swingHour;
    private readonly double _level;
    private double _slow;
    private double _tap;
    private double _hertz;
    private double _held = 1;

    public WeekSupply(WeekRecipe recipe, SeededRandom random)
    {
        (_recipe, _random) = (recipe, random);
        var volts = recipe.Nominal.LineToNeutralVolts;
        var isHighLeg = recipe.Service == ServiceKind.HighLeg;
        _ideal[0] = new Phasor(volts, 0);
        _ideal[1] = isHighLeg ? new Phasor(0, -Math.Sqrt(3) * volts)
            : Phasor.FromDegrees(volts, recipe.Service == ServiceKind.Split ? 180 : -120);
        _ideal[2] = isHighLeg ? new Phasor(-volts, 0) : Phasor.FromDegrees(volts, 120);
        _level = random.Uniform(-0.03, 0.03);
        _swing = random.Uniform(0.002, 0.012);
        _swingHour = random.Uniform(0, 24);
        for (var line = 0; line < 3; line++) _fixed[line] = Math.Clamp(0.004 * random.Gaussian(), -0.012, 0.012);
        _events = [.. recipe.Mishaps.Where(mishap => mishap.IsSupply || mishap.Kind == MishapKind.OutageWithRecorder)];
    }

    /// <summary>Frequency now.</summary>
    public double Hertz => _recipe.Hertz + _hertz;

    /// <summary>A line without feed; −1 when all have it.</summary>
    public int LostLine { get; private set; }

    /// <summary>The share of its voltage that motors hold up on the lost line.</summary>
    public double Held => _held;

    /// <summary>True while the supply's neutral is broken.</summary>
    public bool IsNeutralLost { get; private set; }

    /// <summary>True while nothing is fed.</summary>
    public bool IsOut { get; private set; }

    /// <summary>Goes on by one step.</summary>
    /// <param name="seconds">Middle of the step.</param>
    /// <param name="hour">Hour of the day.</param>
    /// <param name="stepSeconds">Its length.</param>
    /// <param name="source">Receives the potentials of the three lines.</param>
    public void Move(double seconds, double hour, double stepSeconds, Span<Phasor> source)
    {
        var slowKeep = Math.Exp(-stepSeconds / 10800);
        _slow = (slowKeep * _slow) + (0.006 * Math.Sqrt(1 - (slowKeep * slowKeep)) * _random.Gaussian());
        var hertzKeep = Math.Exp(-stepSeconds / 300);
        _hertz = (hertzKeep * _hertz) + (0.02 * Math.Sqrt(1 - (hertzKeep * hertzKeep)) * _random.Gaussian());
        if (_random.Chance(stepSeconds / 21600.0)) _tap = Math.Clamp(_tap + (_random.Chance(0.5) ? 0.0125 : -0.0125), -0.025, 0.025);
        var flutter = 0.0008 * Math.Sqrt(Math.Min(1, 60 / stepSeconds)) * _random.Gaussian();
        var common = 1 + _level + _slow + _tap + flutter + (_swing * Math.Cos((hour - _swingHour) * Math.PI / 12));
        for (var line = 0; line < 3; line++)
        {
            var keep = Math.Exp(-stepSeconds / 7200);
            _drift[line] = (keep * _drift[line]) + (0.0015 * Math.Sqrt(1 - (keep * keep)) * _random.Gaussian());
            source[line] = (common + _fixed[line] + _drift[line] + (0.0003 * _random.Gaussian())) * _ideal[line];
        }

        Happen(seconds, stepSeconds, source);
    }

    private void Happen(double seconds, double stepSeconds, Span<Phasor> source)
    {
        (LostLine, IsNeutralLost, IsOut) = (-1, false, false);
        foreach (var mishap in _events)
        {
            if (mishap.Kind == MishapKind.Dip)
            {
                var overlap = Math.Min(seconds + (stepSeconds / 2), mishap.ToSeconds) - Math.Max(seconds - (stepSeconds / 2), mishap.FromSeconds);
                if (overlap > 0) source[mishap.First] = (1 - ((1 - mishap.Size) * overlap / stepSeconds)) * source[mishap.First];
                continue;
            }

            if (!mishap.IsOnAt(seconds)) continue;
            switch (mishap.Kind)
            {
                case MishapKind.Outage or MishapKind.OutageWithRecorder:
                    IsOut = true;
                    source.Clear();
                    break;
                case MishapKind.LineLost:
                    LostLine = mishap.First;
                    _held = mishap.Detail <= 0 ? 0 : Math.Clamp(mishap.Detail + (0.05 * _random.Gaussian()), 0.3, 0.97);
                    break;
                case MishapKind.UpstreamPhaseLost:
                    LosePhase(mishap.First, Math.Clamp(mishap.Detail * (1 + (0.2 * _random.Gaussian())), 0, 0.8), source);
                    break;
                case MishapKind.SupplyNeutralLost:
                    IsNeutralLost = true;
                    break;
                default:
                    break;
            }
        }
    }

    /// <summary>The triangle of the lines falls into one line: two of its corners come together opposite the third, but for what motors hold up. The neutral is the triangle's
    /// middle; on a high-leg service it is the tap in the middle of A and C, so that these two stay alike.</summary>
    private void LosePhase(int keptLine, double held, Span<Phasor> source)
    {
        var isHighLeg = _recipe.Service == ServiceKind.HighLeg;
        var middle = isHighLeg ? (source[0] + source[1] + source[2]) / 3 : Phasor.Zero;
        var kept = source[keptLine] - middle;
        for (var line = 0; line < 3; line++)
        {
            var own = source[line] - middle;
            source[line] = line == keptLine ? own : (-0.5 * (1 - held) * kept) + (held * own);
        }

        if (!isHighLeg) return;
        var tap = (source[0] + source[2]) / 2;
        for (var line = 0; line < 3; line++) source[line] -= tap;
    }
}
