namespace Leadwright.Core.Circuits;

/// <summary>Arithmetic on angles.</summary>
public static class Angle
{
    /// <summary>The same angle above −180 up to 180 degrees.</summary>
    public static double WrapDegrees(double degrees)
    {
        var wrapped = Math.IEEERemainder(degrees, 360);
        return wrapped <= -180 ? wrapped + 360 : wrapped;
    }
}
