namespace Leadwright.Core.Hookups.Steps;

/// <summary>What is believed of the impedances between the supply and the panel.</summary>
/// <remarks>
/// <para>A conductor's impedance is a common value times its own factor. The common value has any size, within limits, and an angle
/// between nought and ninety degrees: resistance is positive, and a cable or transformer is inductive. Most panels have like
/// impedances on their lines; some have a long feeder or a weak joint on one. The neutral's may be anything from nearly
/// nothing to several times the lines'.</para>
/// <para>Common practice, no source, for the shares and spreads; the limits are physics. Derivation:
/// docs/methods/switching-steps.md.</para>
/// </remarks>
internal static class SourceModel
{
    /// <summary>Angles that the common impedance is spread around, degrees.</summary>
    public static ReadOnlySpan<double> AngleDegrees => [22, 58];

    /// <summary>Spread of the common impedance round its size and angle, as a share of it.</summary>
    public const double CommonSpread = 0.28;

    /// <summary>Neutral impedance over line impedance, its mean.</summary>
    public const double NeutralFactor = 1.1;

    /// <summary>How far the neutral's impedance may be off that, as a multiple of the usual drop per ampere, where the lines' size is looked for.</summary>
    public const double NeutralSlack = 0.8;

    /// <summary>Lines alike, and lines that differ: share, spread of a line, spread of the neutral, each as a share of the common value.</summary>
    public static (double Share, double Line, double Neutral)[] Regimes { get; } = [(0.7, 0.15, 0.6), (0.3, 0.7, 1.8)];

    /// <summary>How far a drop differs from impedance times current for want of exact clamps and inputs, as a share of the usual drop: ratio and
    /// angle errors that go into the neutral's share differently than into the line's.</summary>
    public const double ModelError = 0.015;

    /// <summary>The same of a log, as a share of the drop at the largest current, on top. A recorder holds each current against its own voltage, and a drop turns the voltages against each
    /// other: what already flows on one line then turns in the frame of the next by about the drop's share, and the part of it that the neutral
    /// drops, about half, looks like a change that no current made (derived).</summary>
    public const double LoggedTurning = 0.5;

    /// <summary>Sizes tried, as multiples of the best fitting one.</summary>
    public static ReadOnlySpan<double> Sizes => [0.35, 0.6, 0.85, 1.15, 1.6, 2.5];

    /// <summary>The smallest size looked at, as a share of the usual drop per ampere.</summary>
    public const double LeastSize = 0.003;

    /// <summary>Angle of the common impedance while its size is looked for, degrees: between <see cref="AngleDegrees"/>.</summary>
    public const double MiddleAngleDegrees = 40;

    // About the distance of neighbouring sizes.
    private const double Stride = 1.6;

    /// <summary>Goes from a size to the likeliest one nearby.</summary>
    /// <param name="from">Where to begin: the size that fits best where all lines are alike.</param>
    /// <param name="least">The smallest size.</param>
    /// <param name="most">The largest size.</param>
    /// <param name="log">Logarithm of the likelihood round a size, lines free to differ.</param>
    /// <remarks>Where readings are next to exact, the smallest departure of a neutral from the lines' proportion outweighs everything else in a fit that holds them
    /// alike: it then ends at a size that no conductor has, and an arrangement with impedances below zero seems the likelier one.</remarks>
    public static double Climb(double from, double least, double most, Func<double, double> log)
    {
        var here = log(from);
        // A supply so stiff that nothing is seen of it explains readings that say nothing, and there is no slope to it from a size that chance made up.
        var stiff = log(least);
        if (stiff > here) (from, here) = (least, stiff);
        foreach (var stride in (ReadOnlySpan<double>)[Stride, 1 / Stride])
        {
            var hasMoved = false;
            while (true)
            {
                var next = Math.Clamp(from * stride, least, most);
                if (next == from) break;
                var there = log(next);
                if (!(there > here)) break;
                (from, here, hasMoved) = (next, there, true);
            }

            if (hasMoved) break;
        }

        return from;
    }

    /// <summary>The largest share of the voltage that the source drops at the largest current seen; above it no panel runs.</summary>
    public const double LargestDrop = 0.15;

    /// <summary>Logarithm of how well a resistance that came out of the fit agrees with being above zero: the spread round the common impedance alone
    /// would let a neutral be a source, and with that clamps exchanged read like clamps in place.</summary>
    /// <param name="resistance">The resistance.</param>
    /// <param name="size">The common impedance, which says how sharp zero is: clamp errors and the supply's own turning blur it.</param>
    public static double LogPassive(double resistance, double size)
    {
        const double Blur = 0.15;
        var above = (resistance / Math.Max(Blur * size, 1e-30)) + 1;
        return -Math.Log(1 + Math.Exp(-1.7 * Math.Max(above, -200)));
    }

    /// <summary>Unrest above what the quiet parts show: factor of the variance of each voltage for itself, least spread of what all share
    /// (as a share of the voltage), and how often. The hour is not always as quiet, and now and then the supply changes just
    /// while a load is switched.</summary>
    public static (double OwnFactor, double CommonFloor, double Share)[] Unrest { get; } =
        [(1, 0, 0.62), (4, 0.001, 0.2), (1, 0.012, 0.1), (16, 0.012, 0.08)];

    /// <summary>The same for logged values. Rows of large changes are seldom the quietest: the second level has both parts with 2.5 times the variance.</summary>
    public static (double OwnFactor, double CommonFactor, double CommonFloor, double Share)[] LoggedUnrest { get; } =
        [(1, 1, 0, 0.42), (2.5, 2.5, 0, 0.2), (4, 1, 0.001, 0.2), (1, 1, 0.012, 0.1), (16, 1, 0.012, 0.08)];

    /// <summary>Share of steps that follow no rule: a clamp beyond its range, a neighbour's load in the same instant.</summary>
    public const double StrayShare = 0.02;

    /// <summary>How far such a step's voltages may go, as a share of the voltage.</summary>
    public const double StrayVoltage = 0.01;

    /// <summary>Where one line is unread: weight of loads between it and another line, whose current comes back through it, against
    /// <see cref="NeutralSteps"/>. Both small: panels differ.</summary>
    public const double AcrossSteps = 0.7;

    /// <summary>Weight of loads whose current comes back through the neutral.</summary>
    public const double NeutralSteps = 1.3;

    /// <summary>How much a line that no clamp tells of changes at a step, as a multiple of what the clamps see, with its share: most loads
    /// are on one line, so that an unread one mostly stands still while another changes.</summary>
    public static (double Spread, double Share)[] UnreadChanges { get; } = [(0.003, 0.45), (0.03, 0.15), (0.25, 0.12), (1, 0.28)];

    /// <summary>Where several lines are unread, changes above this may be of one of them alone, the others standing still.</summary>
    public const double UnreadAlone = 0.1;

    /// <summary>Share of such changes that all of them make together.</summary>
    public const double UnreadTogether = 0.35;

    /// <summary>How many steps those shares are worth: panels differ.</summary>
    public const double UnreadWeight = 2;

    /// <summary>The same for changes from interval to interval of a log, one size for all: in a mean of a minute no line stands quite still.</summary>
    public static (double Spread, double Share)[] UnreadMeans { get; } = [(0.02, 0.45), (0.25, 0.2), (1, 0.35)];
}
