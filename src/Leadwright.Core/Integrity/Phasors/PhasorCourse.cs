using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Integrity.Phasors;

/// <summary>Rows in which leads and clamps were elsewhere, by the way in which the voltages answer to the currents.</summary>
/// <param name="From">First row.</param>
/// <param name="To">Last row.</param>
/// <param name="Arrangement">Where they were.</param>
/// <param name="Odds">Log-odds over the likeliest other arrangement, nats.</param>
internal sealed record PhasorStretch(int From, int To, Arrangement Arrangement, double Odds);

/// <summary>What the answers of the voltages to the currents say of a wye recording.</summary>
/// <param name="Stretches">Where the neutral lead was in the air, or a clamp on the neutral.</param>
/// <param name="OddsOfAcb">What the answers say for the lines following each other A, C, B and not A, B, C, nats; 0 where nothing tells, or it was told.</param>
internal sealed record PhasorCourse(List<PhasorStretch> Stretches, double OddsOfAcb)
{
    /// <summary>Nothing is known.</summary>
    public static PhasorCourse None { get; } = new([], 0);

    /// <summary>True where a law of two impedances holds on this site.</summary>
    public bool IsLawful => !ReferenceEquals(this, None);

    /// <summary>True where the neutral lead was in the air in some rows.</summary>
    public bool HasNeutralOff => Stretches.Exists(stretch => stretch.Arrangement.Leads[3] < 0);
}
