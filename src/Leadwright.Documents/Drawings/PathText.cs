using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace Leadwright.Documents.Drawings;

/// <summary>Reads and writes the path language of SVG 1.1 (W3C Recommendation, clause 8.3) as far as our own drawings use it: M L H V C Q A Z, absolute and relative.</summary>
internal static class PathText
{
    /// <summary>Reads a path.</summary>
    /// <exception cref="FormatException">It holds another command.</exception>
    public static ImmutableArray<PathStep> Parse(string text)
    {
        var steps = ImmutableArray.CreateBuilder<PathStep>();
        var at = 0;
        var (x, y, startX, startY) = (0.0, 0.0, 0.0, 0.0);
        var command = ' ';
        while (true)
        {
            while (at < text.Length && (char.IsWhiteSpace(text[at]) || text[at] == ',')) at++;
            if (at >= text.Length) return steps.ToImmutable();
            if (char.IsAsciiLetter(text[at])) command = text[at++];
            var isRelative = char.IsAsciiLetterLower(command);
            var (baseX, baseY) = isRelative ? (x, y) : (0, 0);
            switch (char.ToUpperInvariant(command))
            {
                case 'M':
                    (x, y) = (baseX + Next(), baseY + Next());
                    (startX, startY) = (x, y);
                    steps.Add(new PathStep(PathStepKind.Move, x, y));
                    command = isRelative ? 'l' : 'L';
                    break;
                case 'L':
                    (x, y) = (baseX + Next(), baseY + Next());
                    steps.Add(new PathStep(PathStepKind.Line, x, y));
                    break;
                case 'H':
                    x = baseX + Next();
                    steps.Add(new PathStep(PathStepKind.Line, x, y));
                    break;
                case 'V':
                    y = baseY + Next();
                    steps.Add(new PathStep(PathStepKind.Line, x, y));
                    break;
                case 'C':
                    {
                        var (ax, ay, bx, by) = (baseX + Next(), baseY + Next(), baseX + Next(), baseY + Next());
                        (x, y) = (baseX + Next(), baseY + Next());
                        steps.Add(new PathStep(PathStepKind.Curve, x, y, ax, ay, bx, by));
                        break;
                    }

                case 'Q':
                    {
                        var (qx, qy) = (baseX + Next(), baseY + Next());
                        var (endX, endY) = (baseX + Next(), baseY + Next());
                        steps.Add(new PathStep(
                            PathStepKind.Curve, endX, endY, x + (2 * (qx - x) / 3), y + (2 * (qy - y) / 3), endX + (2 * (qx - endX) / 3), endY + (2 * (qy - endY) / 3)));
                        (x, y) = (endX, endY);
                        break;
                    }

                case 'A':
                    {
                        var radius = Next();
                        Next();
                        Next();
                        var (isLarge, isSweep) = (Next() != 0, Next() != 0);
                        var (endX, endY) = (baseX + Next(), baseY + Next());
                        Arc(steps, x, y, endX, endY, radius, isLarge, isSweep);
                        (x, y) = (endX, endY);
                        break;
                    }

                case 'Z':
                    steps.Add(new PathStep(PathStepKind.Close, startX, startY));
                    (x, y) = (startX, startY);
                    break;
                default:
                    throw new FormatException($"This is a bug in Leadwright: a path holds '{command}': {text}");
            }
        }

        double Next()
        {
            while (at < text.Length && (char.IsWhiteSpace(text[at]) || text[at] == ',')) at++;
            var from = at;
            if (at < text.Length && text[at] is '-' or '+') at++;
            var hasPoint = false;
            while (at < text.Length && (char.IsAsciiDigit(text[at]) || (text[at] == '.' && !hasPoint)))
            {
                hasPoint |= text[at] == '.';
                at++;
            }

            return double.Parse(text.AsSpan(from, at - from), CultureInfo.InvariantCulture);
        }
    }

    /// <summary>Writes a path, coordinates to a hundredth.</summary>
    public static string Write(ImmutableArray<PathStep> steps)
    {
        var text = new StringBuilder(steps.Length * 12);
        foreach (var step in steps)
        {
            switch (step.Kind)
            {
                case PathStepKind.Move: text.Append(CultureInfo.InvariantCulture, $"M{step.X:0.##} {step.Y:0.##}"); break;
                case PathStepKind.Line: text.Append(CultureInfo.InvariantCulture, $"L{step.X:0.##} {step.Y:0.##}"); break;
                case PathStepKind.Curve:
                    text.Append(CultureInfo.InvariantCulture, $"C{step.FirstX:0.##} {step.FirstY:0.##} {step.SecondX:0.##} {step.SecondY:0.##} {step.X:0.##} {step.Y:0.##}");
                    break;
                default: text.Append('Z'); break;
            }
        }

        return text.ToString();
    }

    // A circle's arc in pieces of at most a quarter (SVG 1.1, appendix F.6.5 for the centre).
    private static void Arc(ImmutableArray<PathStep>.Builder steps, double fromX, double fromY, double toX, double toY, double radius, bool isLarge, bool isSweep)
    {
        var (halfX, halfY) = ((toX - fromX) / 2, (toY - fromY) / 2);
        var half = Math.Sqrt((halfX * halfX) + (halfY * halfY));
        if (half == 0) return;
        var r = Math.Max(radius, half);
        var toCentre = Math.Sqrt(Math.Max((r * r) - (half * half), 0)) / half;
        var side = isLarge == isSweep ? 1 : -1;
        var (centreX, centreY) = (fromX + halfX + (side * toCentre * halfY), fromY + halfY - (side * toCentre * halfX));
        var start = Math.Atan2(fromY - centreY, fromX - centreX);
        var turn = Math.Atan2(toY - centreY, toX - centreX) - start;
        if (isSweep && turn < 0) turn += 2 * Math.PI;
        if (!isSweep && turn > 0) turn -= 2 * Math.PI;
        var pieces = (int)Math.Ceiling(Math.Abs(turn) / (Math.PI / 2) - 1e-9);
        var step = turn / pieces;
        var handle = 4.0 / 3 * Math.Tan(step / 4) * r;
        for (var piece = 0; piece < pieces; piece++)
        {
            var (sine, cosine) = Math.SinCos(start + (piece * step));
            var (nextSine, nextCosine) = Math.SinCos(start + ((piece + 1) * step));
            steps.Add(new PathStep(
                PathStepKind.Curve, centreX + (r * nextCosine), centreY + (r * nextSine),
                centreX + (r * cosine) - (handle * sine), centreY + (r * sine) + (handle * cosine),
                centreX + (r * nextCosine) + (handle * nextSine), centreY + (r * nextSine) - (handle * nextCosine)));
        }
    }
}
