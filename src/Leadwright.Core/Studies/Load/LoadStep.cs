using System.Runtime.InteropServices;

namespace Leadwright.Core.Studies.Load;

/// <summary>A step of the load from one interval to the next.</summary>
/// <param name="Row">The interval at whose start it is complete.</param>
/// <param name="Watts">Its size, W; above zero when the load rises.</param>
/// <remarks>A change that exceeds four times the median change and a fiftieth of the highest load (our choice). One that takes two intervals, since it fell within one, is one step.</remarks>
public readonly record struct LoadStep(int Row, double Watts)
{
    /// <summary>Finds them, in the order of time.</summary>
    /// <param name="power">Mean power, W.</param>
    public static List<LoadStep> Find(StudySeries power)
    {
        ArgumentNullException.ThrowIfNull(power);
        var changes = new List<double>();
        var highest = 0.0;
        for (var row = 1; row < power.Count; row++)
        {
            if (!power.IsSound(row) || !power.IsSound(row - 1)) continue;
            changes.Add(Math.Abs(power.Values[row] - power.Values[row - 1]));
            highest = Math.Max(highest, Math.Abs(power.Values[row]));
        }

        var least = Math.Max(4 * Percentile.OfUnsorted(CollectionsMarshal.AsSpan(changes), 50), highest / 50);
        var steps = new List<LoadStep>();
        var slack = power.IntervalTicks * 3 / 2;
        for (var row = 1; row < power.Count; row++)
        {
            if (!power.IsSound(row) || !power.IsSound(row - 1) || power.Starts.Span[row] - power.Starts.Span[row - 1] > slack) continue;
            var change = power.Values[row] - power.Values[row - 1];
            if (Math.Abs(change) < least) continue;
            var isRunOn = steps.Count > 0 && steps[^1].Row == row - 1 && Math.Sign(steps[^1].Watts) == Math.Sign(change);
            if (isRunOn) steps[^1] = new LoadStep(row, steps[^1].Watts + change);
            else steps.Add(new LoadStep(row, change));
        }

        return steps;
    }
}
