namespace Leadwright.Core.Signals.Windows;

/// <summary>A 10- or 12-cycle window: where it lies, and what the half cycles within it were.</summary>
/// <param name="StartPlace">Its start in frames from the start of the segment; need not be whole.</param>
/// <param name="EndPlace">Its end.</param>
/// <param name="Cycles">Cycles of the fundamental in it: 10, 12, or fewer where it was cut at the end of a segment.</param>
public readonly record struct WindowSpan(double StartPlace, double EndPlace, int Cycles)
{
    /// <summary>Its length in frames.</summary>
    public double Length => EndPlace - StartPlace;
}
