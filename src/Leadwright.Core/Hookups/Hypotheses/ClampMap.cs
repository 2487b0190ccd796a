namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>One arrangement of the clamps.</summary>
/// <param name="On">Place of each clamp, by position in the list of clamps that the recorder has.</param>
/// <param name="Reversed">Direction of each clamp.</param>
/// <param name="OffScale">Position of the clamp whose ratio is off, the first of two; −1 when none is.</param>
/// <param name="Scale">What that clamp's reading must be divided by.</param>
/// <param name="LogPrior">Natural logarithm of its prior probability.</param>
internal sealed record ClampMap(int[] On, bool[] Reversed, int OffScale, double Scale, double LogPrior)
{
    /// <summary>Number of values of <see cref="ScaleCodeOf"/>.</summary>
    public const int ScaleCodes = 7;

    private readonly ClampRole[] _roles = RolesOf(On);

    /// <summary>Position of a second clamp whose ratio is off; −1 where at most one is.</summary>
    public int SecondOffScale { get; init; } = -1;

    /// <summary>What that clamp's reading must be divided by.</summary>
    public double SecondScale { get; init; } = 1;

    /// <summary>What each clamp tells, by position.</summary>
    public ReadOnlySpan<ClampRole> Roles => _roles;

    /// <summary>The same as a number: two bits a clamp.</summary>
    public byte RoleCode
    {
        get
        {
            var code = 0;
            for (var position = 0; position < _roles.Length; position++) code |= (int)_roles[position] << (2 * position);
            return (byte)code;
        }
    }

    /// <summary>True when no clamp is around anything.</summary>
    public bool IsNothing { get; } = On.All(place => place == Place.Air);

    public double ScaleOf(int position) => position == OffScale ? Scale : position == SecondOffScale ? SecondScale : 1;

    /// <summary>The ratio of a clamp as a number below <see cref="ScaleCodes"/>; 0 where it is right.</summary>
    public int ScaleCodeOf(int position) => ScaleOf(position) switch { 1 => 0, 10 => 1, 0.1 => 2, 5 => 3, 0.2 => 4, 2 => 5, _ => 6 };

    private static ClampRole[] RolesOf(int[] on)
    {
        var roles = new ClampRole[on.Length];
        var seen = 0;
        for (var position = 0; position < on.Length; position++)
        {
            var bit = 1 << on[position];
            roles[position] = on[position] == Place.Air ? ClampRole.Open
                : (seen & bit) != 0 ? ClampRole.Second
                : on[position] == Place.N ? ClampRole.Neutral
                : ClampRole.Line;
            seen |= bit;
        }

        return roles;
    }
}

/// <summary>What a clamp tells under one arrangement.</summary>
internal enum ClampRole
{
    /// <summary>The current of a line.</summary>
    Line,

    /// <summary>The current of a conductor that another clamp reads already.</summary>
    Second,

    /// <summary>The neutral current.</summary>
    Neutral,

    /// <summary>Nothing.</summary>
    Open,
}
