namespace Leadwright.Core.Planning;

/// <summary>What is to be learnt from a survey; their names in files are given beside them.</summary>
public enum SurveyPurpose
{
    /// <summary>Demand, energy, load shape: <c>load</c>.</summary>
    Load,

    /// <summary>Room for more load on a feeder: <c>spare-capacity</c>.</summary>
    SpareCapacity,

    /// <summary>Voltage quality against limits of a week: <c>voltage</c>.</summary>
    Voltage,

    /// <summary>Harmonics against limits of a week: <c>harmonics</c>.</summary>
    Harmonics,

    /// <summary>A complaint that comes and goes: <c>fault-finding</c>.</summary>
    FaultFinding,
}
