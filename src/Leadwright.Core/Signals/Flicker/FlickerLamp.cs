namespace Leadwright.Core.Signals.Flicker;

/// <summary>The incandescent lamp whose light the flickermeter follows.</summary>
public enum FlickerLamp
{
    /// <summary>60 W coiled-coil lamp at 230 V. The default.</summary>
    Volts230,

    /// <summary>60 W coiled-coil lamp at 120 V.</summary>
    Volts120,
}
