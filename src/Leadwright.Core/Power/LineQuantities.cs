using Leadwright.Core.Circuits;

namespace Leadwright.Core.Power;

/// <summary>What the effective quantities of three lines are worked out from.</summary>
/// <remarks>On three-wire services the voltages are those to the star point of the lines (their sum is zero).</remarks>
public readonly record struct LineQuantities
{
    /// <summary>Fundamental line-to-neutral voltages.</summary>
    public required ThreePhasors Voltages { get; init; }

    /// <summary>Fundamental line currents.</summary>
    public required ThreePhasors Currents { get; init; }

    /// <summary>Sum of the squared rms line-to-neutral voltages, V². Not used on three-wire services.</summary>
    public required double VoltageSquares { get; init; }

    /// <summary>Sum of the squared rms line-to-line voltages, V².</summary>
    public required double LineToLineSquares { get; init; }

    /// <summary>Sum of the squared rms line currents, A².</summary>
    public required double CurrentSquares { get; init; }

    /// <summary>Squared rms neutral current, A²; zero on three-wire services.</summary>
    public required double NeutralSquare { get; init; }

    /// <summary>Fundamental neutral current; zero on three-wire services.</summary>
    public required Phasor Neutral { get; init; }

    /// <summary>Total active power, W.</summary>
    public required double Active { get; init; }

    /// <summary>Sum of the apparent powers of the phases, VA: Sa + Sb + Sc.</summary>
    public required double ArithmeticApparent { get; init; }

    /// <summary>True for a four-wire service.</summary>
    public required bool HasNeutral { get; init; }
}
