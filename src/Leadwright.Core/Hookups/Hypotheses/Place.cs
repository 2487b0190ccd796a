namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>Conductors as small numbers: A, B, C, N are 0 to 3, the air is 4.</summary>
internal static class Place
{
    public const int N = 3;
    public const int Air = 4;

    public static bool IsLine(int place) => place < N;
}
