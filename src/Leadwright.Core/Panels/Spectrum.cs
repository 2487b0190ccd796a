using System.Collections.Immutable;

namespace Leadwright.Core.Panels;

/// <summary>One harmonic of a spectrum.</summary>
/// <param name="Order">Multiple of the fundamental frequency, 2 to 50.</param>
/// <param name="Fraction">Its size as a fraction of the fundamental; zero or more.</param>
/// <param name="AngleDegrees">Its angle ψ from the fundamental voltage it is referred to: where that voltage stands at θ, the
/// harmonic stands at order × θ + ψ. At ψ = 0 it crests together with the voltage.</param>
public readonly record struct SpectrumLine(int Order, double Fraction, double AngleDegrees);

/// <summary>The harmonics of a supply or of a load, referred to a fundamental.</summary>
/// <remarks>Because angles are referred to each phase's own voltage, the sequence of each order comes out by itself: the 5th
/// turns backward, the 7th forward, the 3rd is alike on all phases.</remarks>
public sealed record Spectrum
{
    /// <summary>Makes a spectrum.</summary>
    /// <param name="lines">Its lines, in ascending order.</param>
    /// <exception cref="ArgumentException">An order is outside 2 to 50, not above the one before it, or a fraction is not a
    /// finite number of zero or more.</exception>
    public Spectrum(params ImmutableArray<SpectrumLine> lines)
    {
        var previous = 1;
        foreach (var line in lines)
        {
            if (line.Order <= previous || line.Order > 50)
            {
                throw new ArgumentException(
                    $"Orders must ascend between 2 and 50; found {line.Order} after {previous}.", nameof(lines));
            }

            if (!double.IsFinite(line.Fraction) || line.Fraction < 0 || !double.IsFinite(line.AngleDegrees))
            {
                throw new ArgumentException(
                    $"Order {line.Order} needs a finite fraction of zero or more and a finite angle; found {line}.", nameof(lines));
            }

            previous = line.Order;
            OrderMask |= 1UL << line.Order;
        }

        Lines = lines;
    }

    /// <summary>No harmonics.</summary>
    public static Spectrum None { get; } = new([]);

    /// <summary>A diode bridge with a smoothing capacitor on one phase: a pulse near the crest of the voltage.</summary>
    /// <remarks>All orders crest with the voltage (ψ = 0), because a train of pulses at the crests is a sum of cosines. Sizes
    /// are typical of electronic equipment without power-factor correction; common practice, no source.</remarks>
    public static Spectrum CapacitorRectifier { get; } = new(
        new SpectrumLine(3, 0.78, 0), new SpectrumLine(5, 0.48, 0), new SpectrumLine(7, 0.22, 0),
        new SpectrumLine(9, 0.07, 0), new SpectrumLine(11, 0.05, 180), new SpectrumLine(13, 0.04, 180));

    /// <summary>A six-pulse bridge with a choke and a capacitor, as in variable-speed drives.</summary>
    /// <remarks>Two pulses in each half cycle, 30 degrees either side of the crest, give each order a factor cos 30h: 5th and 7th
    /// opposed to the crest, 11th and 13th with it. Sizes are typical of drives with a choke; common practice, no source.</remarks>
    public static Spectrum SixPulse { get; } = new(
        new SpectrumLine(5, 0.35, 180), new SpectrumLine(7, 0.13, 180),
        new SpectrumLine(11, 0.07, 0), new SpectrumLine(13, 0.04, 0));

    /// <summary>The lines, in ascending order.</summary>
    public ImmutableArray<SpectrumLine> Lines { get; }

    /// <summary>Bit n is set where order n is present.</summary>
    internal ulong OrderMask { get; }

    /// <summary>The line of an order; size zero when there is none.</summary>
    internal SpectrumLine LineOf(int order)
    {
        foreach (var line in Lines)
        {
            if (line.Order == order) return line;
        }

        return new SpectrumLine(order, 0, 0);
    }

    /// <summary>Equal when all lines are equal.</summary>
    public bool Equals(Spectrum? other) => other is not null && Lines.SequenceEqual(other.Lines);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        foreach (var line in Lines) hash.Add(line);
        return hash.ToHashCode();
    }
}
