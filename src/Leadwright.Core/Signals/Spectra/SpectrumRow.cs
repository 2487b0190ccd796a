namespace Leadwright.Core.Signals.Spectra;

/// <summary>Where each value of a window stands: rows of eight lanes, every one a squared rms value or a squared ratio.</summary>
/// <remarks>Squares, because IEC 61000-4-30 aggregates by the root of the mean square: rows of windows only need adding up.</remarks>
/// <param name="HighestOrder">The highest harmonic order.</param>
public readonly record struct SpectrumRow(int HighestOrder)
{
    /// <summary>True rms of everything, direct part included.</summary>
    public static int Rms => 0;

    /// <summary>Total harmonic distortion of the components (THD), squared ratio.</summary>
    public static int Thd => 1;

    /// <summary>Total harmonic distortion of the subgroups (THDS), squared ratio.</summary>
    public static int SubgroupThd => 2;

    /// <summary>Total harmonic distortion of the groups (THDG), squared ratio.</summary>
    public static int GroupThd => 3;

    /// <summary>The fundamental component.</summary>
    public static int Fundamental => 4;

    /// <summary>The signal at the mains-signalling frequency.</summary>
    public static int Signalling => 5;

    private const int First = 6;

    /// <summary>The subgroup of a harmonic.</summary>
    /// <param name="order">The order, from 1.</param>
    public static int Subgroup(int order) => First + order - 1;

    /// <summary>The centred subgroup above a harmonic.</summary>
    /// <param name="order">The order below, from 0.</param>
    public int Interharmonic(int order) => First + HighestOrder + order;

    /// <summary>Number of rows.</summary>
    public int Count => First + (2 * HighestOrder) + 1;
}
