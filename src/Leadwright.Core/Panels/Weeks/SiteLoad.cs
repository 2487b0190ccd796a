namespace Leadwright.Core.Panels.Weeks;

/// <summary>A load of a virtual week: between two conductors, or on three lines alike.</summary>
internal sealed class SiteLoad
{
    /// <summary>Conductor numbers; −1 in <see cref="From"/> for three lines alike.</summary>
    public required int From { get; init; }

    public required int To { get; init; }

    public required double Watts { get; init; }

    public required double Vars { get; init; }

    /// <summary>Rms of the current over that of its fundamental.</summary>
    public double Distortion { get; init; } = 1;

    /// <summary>By hour of the day: the chance of being on, or for a steady load its share.</summary>
    public required double[] WorkdayShares { get; init; }

    public required double[] WeekendShares { get; init; }

    /// <summary>Mean time that it stays on, seconds; 0 for a load that follows its share without being switched.</summary>
    public double OnSeconds { get; init; }

    /// <summary>True for a motor: it draws five times its current, mostly vars, for some seconds when it starts.</summary>
    public bool IsMotor { get; init; }

    /// <summary>How much a load that is not switched wanders, as a fraction.</summary>
    public double Wander { get; init; }

    public bool IsThreePhase => From < 0;

    public bool IsOn { get; set; }

    public double Level { get; set; }

    public double StartingSeconds { get; set; }

    private double _wander;

    /// <summary>Goes on by one step of time.</summary>
    public void Move(double hour, bool isWorkday, double stepSeconds, SeededRandom random)
    {
        var shares = isWorkday ? WorkdayShares : WeekendShares;
        var index = (int)hour;
        var into = hour - index;
        var share = (shares[index % 24] * (1 - into)) + (shares[(index + 1) % 24] * into);
        StartingSeconds = Math.Max(0, StartingSeconds - stepSeconds);
        if (OnSeconds <= 0)
        {
            var keep = Math.Exp(-stepSeconds / 1800);
            _wander = (keep * _wander) + (Math.Sqrt(1 - (keep * keep)) * random.Gaussian());
            var flutter = Math.Sqrt(Math.Min(1, 60 / stepSeconds)) * 0.15 * random.Gaussian();
            Level = share * Math.Max(0.05, 1 + (Wander * (_wander + flutter)));
            return;
        }

        if (share <= 0)
        {
            IsOn = false;
        }
        else if (IsOn)
        {
            IsOn = random.NextUnit() >= 1 - Math.Exp(-stepSeconds / OnSeconds);
        }
        else
        {
            var offSeconds = OnSeconds * (1 - Math.Min(0.98, share)) / share;
            IsOn = random.NextUnit() < 1 - Math.Exp(-stepSeconds / offSeconds);
            if (IsOn && IsMotor) StartingSeconds = random.Uniform(1, 6);
        }

        Level = IsOn ? 1 : 0;
    }
}
