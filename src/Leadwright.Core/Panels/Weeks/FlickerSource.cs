namespace Leadwright.Core.Panels.Weeks;

/// <summary>A load of a virtual week that is switched over and over, as a spot welder: what it does to the light.</summary>
/// <param name="Line">The line that it hangs on, 0 to 2.</param>
/// <param name="ChangesPerMinute">Changes of voltage a minute; a shot makes two. Above zero.</param>
/// <param name="ChangePercent">Size of each change at the panel, percent of the voltage: its amperes times the source impedance. Above zero.</param>
/// <param name="FromHour">When work begins on workdays, hour of the day.</param>
/// <param name="ToHour">When it ends.</param>
public sealed record FlickerSource(int Line, double ChangesPerMinute, double ChangePercent, double FromHour, double ToHour)
{
    /// <summary>What of a change reaches the other lines through the neutral that they share, as a share. Default a third.</summary>
    public double OtherLinesShare { get; init; } = 1.0 / 3;
}
