namespace Leadwright.Browser.Tests;

/// <summary>The size of a window in CSS pixels.</summary>
internal sealed record ScreenSize(int Width, int Height)
{
    public static ScreenSize Phone { get; } = new(390, 844);

    public static ScreenSize SmallPhone { get; } = new(320, 640);

    public static ScreenSize Desk { get; } = new(1280, 800);

    public bool IsPhone => Width < 1000;
}
