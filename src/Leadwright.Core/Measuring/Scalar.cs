using System.Collections.Immutable;

namespace Leadwright.Core.Measuring;

/// <summary>How windows become a row.</summary>
public enum Aggregation
{
    /// <summary>Arithmetic mean: frequency, powers.</summary>
    Mean,

    /// <summary>Root of the mean square (IEC 61000-4-30 clause 4.5): everything that is a size.</summary>
    RootMeanSquare,
}

/// <summary>A quantity of the whole service or of one phase that every window has one of.</summary>
/// <param name="Name">Its name, without unit.</param>
/// <param name="Unit">Its unit as in column names; <c>percent</c> for ratios, empty for plain numbers.</param>
/// <param name="Aggregation">How windows become a row.</param>
public readonly record struct Scalar(string Name, string Unit, Aggregation Aggregation);

/// <summary>The scalars in order.</summary>
/// <remarks>Powers by IEEE Std 1459-2010; unbalance by IEC 61000-4-30 clause 5.7.</remarks>
public static class Scalars
{
    /// <summary>Frequency of the window.</summary>
    public const int Frequency = 0;

    /// <summary>u2, u0 and largest deviation of the voltages between lines, then i2 and i0; fractions.</summary>
    public const int Unbalance = 1;

    /// <summary>First scalar of phase 1.</summary>
    public const int Phase = 6;

    /// <summary>Scalars of a phase.</summary>
    public const int PhaseCount = 8;

    /// <summary>First scalar of the total.</summary>
    public const int Total = Phase + (3 * PhaseCount);

    /// <summary>All of them.</summary>
    public static ImmutableArray<Scalar> All { get; } = Make();

    private static ImmutableArray<Scalar> Make()
    {
        const Aggregation Mean = Aggregation.Mean;
        const Aggregation Square = Aggregation.RootMeanSquare;
        var all = ImmutableArray.CreateBuilder<Scalar>();
        all.Add(new("frequency", "Hz", Mean));
        all.Add(new("u2", "percent", Square));
        all.Add(new("u0", "percent", Square));
        all.Add(new("u_deviation", "percent", Square));
        all.Add(new("i2", "percent", Square));
        all.Add(new("i0", "percent", Square));
        for (var phase = 1; phase <= 3; phase++)
        {
            all.Add(new($"P{phase}", "W", Mean));
            all.Add(new($"P{phase}_fundamental", "W", Mean));
            all.Add(new($"Q{phase}_fundamental", "var", Mean));
            all.Add(new($"S{phase}", "VA", Mean));
            all.Add(new($"S{phase}_fundamental", "VA", Mean));
            all.Add(new($"N{phase}", "var", Mean));
            all.Add(new($"SN{phase}", "VA", Mean));
            all.Add(new($"DI{phase}", "var", Mean));
        }

        all.Add(new("P", "W", Mean));
        all.Add(new("P_fundamental", "W", Mean));
        all.Add(new("Q_fundamental", "var", Mean));
        all.Add(new("Se", "VA", Mean));
        all.Add(new("Se_fundamental", "VA", Mean));
        all.Add(new("SeN", "VA", Mean));
        all.Add(new("N", "var", Mean));
        all.Add(new("P_positive", "W", Mean));
        all.Add(new("Q_positive", "var", Mean));
        all.Add(new("S_positive", "VA", Mean));
        all.Add(new("SU_fundamental", "VA", Mean));
        all.Add(new("SA", "VA", Mean));
        return all.ToImmutable();
    }
}
