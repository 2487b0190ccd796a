using System.Collections.Immutable;

namespace Leadwright.Documents.Drawings;

/// <summary>Paths of simple shapes.</summary>
internal static class PathShapes
{
    // Handle length of a quarter circle as a cubic Bézier curve: 4/3 (√2 − 1).
    private const double Quarter = 0.5522847498307936;

    public static ImmutableArray<PathStep> Line(double x1, double y1, double x2, double y2) =>
        [new(PathStepKind.Move, x1, y1), new(PathStepKind.Line, x2, y2)];

    public static ImmutableArray<PathStep> Rectangle(double x, double y, double width, double height, double radius = 0)
    {
        var round = Math.Min(radius, Math.Min(width, height) / 2);
        if (round <= 0)
        {
            return
            [
                new(PathStepKind.Move, x, y), new(PathStepKind.Line, x + width, y), new(PathStepKind.Line, x + width, y + height),
                new(PathStepKind.Line, x, y + height), new(PathStepKind.Close, x, y),
            ];
        }

        var (right, bottom, handle) = (x + width, y + height, round * (1 - Quarter));
        return
        [
            new(PathStepKind.Move, x + round, y),
            new(PathStepKind.Line, right - round, y),
            new(PathStepKind.Curve, right, y + round, right - handle, y, right, y + handle),
            new(PathStepKind.Line, right, bottom - round),
            new(PathStepKind.Curve, right - round, bottom, right, bottom - handle, right - handle, bottom),
            new(PathStepKind.Line, x + round, bottom),
            new(PathStepKind.Curve, x, bottom - round, x + handle, bottom, x, bottom - handle),
            new(PathStepKind.Line, x, y + round),
            new(PathStepKind.Curve, x + round, y, x, y + handle, x + handle, y),
            new(PathStepKind.Close, x + round, y),
        ];
    }

    public static ImmutableArray<PathStep> Circle(double x, double y, double radius)
    {
        var handle = radius * Quarter;
        return
        [
            new(PathStepKind.Move, x + radius, y),
            new(PathStepKind.Curve, x, y + radius, x + radius, y + handle, x + handle, y + radius),
            new(PathStepKind.Curve, x - radius, y, x - handle, y + radius, x - radius, y + handle),
            new(PathStepKind.Curve, x, y - radius, x - radius, y - handle, x - handle, y - radius),
            new(PathStepKind.Curve, x + radius, y, x + handle, y - radius, x + radius, y - handle),
            new(PathStepKind.Close, x + radius, y),
        ];
    }

    /// <summary>A line through points; it breaks at a point that is no number.</summary>
    public static ImmutableArray<PathStep> Through(IEnumerable<(double X, double Y)> points)
    {
        var steps = ImmutableArray.CreateBuilder<PathStep>();
        var isOpen = false;
        foreach (var (x, y) in points)
        {
            if (!double.IsFinite(x) || !double.IsFinite(y))
            {
                isOpen = false;
                continue;
            }

            steps.Add(new PathStep(isOpen ? PathStepKind.Line : PathStepKind.Move, x, y));
            isOpen = true;
        }

        return steps.ToImmutable();
    }
}
