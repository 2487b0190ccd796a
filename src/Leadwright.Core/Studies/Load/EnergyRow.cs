using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Load;

/// <summary>Energy within a stretch of time.</summary>
/// <param name="Name">Name of the stretch: a date, an hour, a period.</param>
/// <param name="From">Start of its first interval.</param>
/// <param name="ImportWattHours">Toward the load, Wh.</param>
/// <param name="ExportWattHours">Back to the supply, Wh.</param>
/// <param name="Seconds">Time of its intervals, known or not.</param>
/// <param name="KnownSeconds">Time whose power is known.</param>
/// <param name="ModelledWattHours">What of the import rests on estimates, Wh.</param>
/// <param name="Weakest">The weakest standing of a known part; lost when nothing is known.</param>
public sealed record EnergyRow(
    string Name, DateTime From, double ImportWattHours, double ExportWattHours, double Seconds, double KnownSeconds, double ModelledWattHours, Standing Weakest)
{
    /// <summary>Toward the load less back, Wh.</summary>
    public double NetWattHours => ImportWattHours - ExportWattHours;

    /// <summary>Mean power toward the load over the known time, W.</summary>
    public double MeanWatts => NetWattHours * 3600 / KnownSeconds;
}
