namespace Leadwright.Core.Signals;

/// <summary>A run of cycles in which nothing happens.</summary>
/// <param name="Stretch">The stretch that it lies in.</param>
/// <param name="FromSeconds">Its begin, after the recording's start.</param>
/// <param name="Cycles">Its length in cycles.</param>
/// <param name="BeginsAtEvent">True when something happened just before.</param>
/// <param name="EndsAtEvent">True when something happened just after.</param>
/// <param name="LargestVoltage">The largest voltage in it, rms of the fundamental; 0 without voltages.</param>
internal readonly record struct SteadyRun(
    Stretch Stretch, double FromSeconds, int Cycles, bool BeginsAtEvent, bool EndsAtEvent, double LargestVoltage)
{
    private const int LeastLeft = 3;

    /// <summary>The run without the cycles next to an event, which may hold a little of it; whole where that would leave
    /// less than three cycles.</summary>
    public SteadyRun Inner(double hertz)
    {
        var (head, tail) = (BeginsAtEvent ? 1 : 0, EndsAtEvent ? 1 : 0);
        return Cycles - head - tail < LeastLeft
            ? this
            : this with { FromSeconds = FromSeconds + (head / hertz), Cycles = Cycles - head - tail };
    }
}
