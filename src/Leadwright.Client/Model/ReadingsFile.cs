using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>x</summary>
public static class ReadingsFile
{
    /// <summary>x</summary>
    public static string Write(PanelReadings readings) => readings.ToString();
}
