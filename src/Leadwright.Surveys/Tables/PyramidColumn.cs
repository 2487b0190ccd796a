namespace Leadwright.Surveys.Tables;

/// <summary>A column that a pyramid is built of.</summary>
/// <param name="Name">Its name in the table.</param>
/// <param name="HasStandings">True when it has standings.</param>
/// <param name="IsAngle">True for angles, whose mean is not told: −179° and 179° don't average to 0°.</param>
internal readonly record struct PyramidColumn(string Name, bool HasStandings, bool IsAngle);
