using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Where one channel of a high-leg service stands turned, another whose power leaps at the same edges to where a clamp on another line would have it is turned as well.</summary>
/// <remarks>By itself a power that leads or lags by up to a right angle may be a load's, and a quarter turn leaves most powers there; but no load comes and goes with a hand at the clamps. A clamp on another
/// line reads that line's loads: its angle is the turn and the usual angle of that line.</remarks>
internal static class JoinedTurns
{
    private const double MostOff = 12;
    private const double LeastLeap = 45;
    private const int LeastRows = 2;

    /// <summary>Puts what is found into the histories.</summary>
    public static void Join(GuardFrame frame, AngleHistory?[] angles)
    {
        if (frame.Service.Kind != ServiceKind.HighLeg || frame.Options.Check.MayExport) return;
        for (var channel = 0; channel < 3; channel++)
        {
            if (angles[channel] is not { HasVars: true } turned) continue;
            for (var row = 0; row < turned.Rows.Length; row++)
            {
                var last = row;
                while (last + 1 < turned.Rows.Length && turned.Rows[last + 1] == turned.Rows[row]) last++;
                for (var other = 0; other < 3 && turned.Rows[row] > 0 && last - row + 1 >= LeastRows; other++)
                {
                    if (other != channel && angles[other] is { HasVars: true } own) Join(own, angles, row, last);
                }

                row = last;
            }
        }
    }

    private static void Join(AngleHistory own, AngleHistory?[] angles, int from, int to)
    {
        for (var row = from; row <= to; row++)
        {
            if (own.Rows[row] > 0) return;
        }

        var inside = Middle(own, from, to);
        if (double.IsNaN(inside) || !Leaps(Middle(own, from - 3, from - 1)) || !Leaps(Middle(own, to + 1, to + 3))) return;
        for (sbyte turn = 1; turn < own.Turns.Length; turn++)
        {
            if (!Array.Exists(angles, line => line is not null && Math.Abs(Angle.WrapDegrees(inside - line.UsualDegrees - own.Turns[turn])) < MostOff)) continue;
            for (var row = from; row <= to; row++) own.Rows[row] = own.Rows[row] < 0 ? own.Rows[row] : turn;
            return;
        }

        // A recording's own ends are no edges.
        bool Leaps(double beside) => double.IsNaN(beside) || Math.Abs(Angle.WrapDegrees(inside - beside)) > LeastLeap;
    }

    /// <summary>The middle of the angles of some rows, degrees; NaN where none is known.</summary>
    private static double Middle(AngleHistory angles, int from, int to)
    {
        double real = 0, imaginary = 0;
        for (var row = Math.Max(0, from); row <= Math.Min(angles.Degrees.Length - 1, to); row++)
        {
            if (double.IsNaN(angles.Degrees[row])) continue;
            real += Math.Cos(angles.Degrees[row] * Math.PI / 180);
            imaginary += Math.Sin(angles.Degrees[row] * Math.PI / 180);
        }

        return real == 0 && imaginary == 0 ? double.NaN : Math.Atan2(imaginary, real) * 180 / Math.PI;
    }
}
