using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;

namespace Leadwright.Core.Mending.Maps;

/// <summary>What the guard says of each channel in each slot, beyond where leads and clamps were.</summary>
internal sealed class ChannelFlags
{
    /// <summary>The share of the range above which an interval is taken to have been partly beyond it.</summary>
    public const double PartlyFrom = 0.8;

    private const double LeastGain = 0.15;

    /// <summary>Nearer to a square wave the reading tells nothing of how much there was.</summary>
    private const double MostShown = 1.33;

    /// <summary>The end's relative error times the root of the evidence for it, in nats: by six outside weeks, 0.02 to 0.25.</summary>
    private const double EndError = 0.25;
    private const double MostError = 0.5;
    private const double WavesDiffer = 0.15;
    private readonly bool[][] _stuckLeads;
    private readonly bool[][] _stuckClamps;
    private readonly double[][] _clipped;
    private readonly double[][] _gains;
    private readonly (double Amperes, double KnownTo)[] _ends = [(double.NaN, 0), (double.NaN, 0), (double.NaN, 0), (double.NaN, 0)];
    private readonly RawSeries _raw;

    public ChannelFlags(SlotGrid grid, GuardReport guard, RawSeries raw)
    {
        _raw = raw;
        _stuckLeads = Make<bool>(grid.Count);
        _stuckClamps = Make<bool>(grid.Count);
        _clipped = Make<double>(grid.Count);
        _gains = Make<double>(grid.Count);
        IsOut = new bool[grid.Count];
        foreach (var gains in _gains) Array.Fill(gains, 1);
        foreach (var span in guard.Spans.Where(span => !span.IsDoubtful))
        {
            switch (span.Kind)
            {
                case SpanKind.Stuck:
                    foreach (var lead in span.Leads) grid.Mark(span.From, span.To, slot => _stuckLeads[(int)lead][slot] = true);
                    foreach (var clamp in span.Clamps) grid.Mark(span.From, span.To, slot => _stuckClamps[(int)clamp][slot] = true);
                    break;
                case SpanKind.OverRange:
                    foreach (var clamp in span.Clamps) grid.Mark(span.From, span.To, slot => _clipped[(int)clamp][slot] = 1);
                    if (span.Finding.Relation == SpanRelation.VoltageFallsOn) _ends[(int)span.Clamps[0]] = (span.Finding.Within, EndError / Math.Sqrt(span.Finding.LogOdds));
                    break;
                case SpanKind.ClampOpen when !span.Gain.IsEmpty:
                    foreach (var clamp in span.Clamps) grid.Mark(span.From, span.To, slot => _gains[(int)clamp][slot] = Gain(span, grid.From(slot)));
                    break;
                case SpanKind.Outage:
                    grid.Mark(span.From, span.To, slot => IsOut[slot] = true);
                    break;
                default: break;
            }
        }

        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (double.IsNaN(_ends[clamp].Amperes)) SpreadClips(_clipped[clamp], raw.Amperes[clamp]);
        }
    }

    /// <summary>True in slots in which the supply, or a part of it, was gone.</summary>
    public bool[] IsOut { get; }

    public bool IsLeadStuck(int lead, int slot) => _stuckLeads[lead][slot];

    public bool IsClampStuck(int clamp, int slot) => _stuckClamps[clamp][slot];

    public bool IsClipped(int clamp, int slot) => _clipped[clamp][slot] > 0;

    /// <summary>How much of an interval a clamp is taken to have stood at the end of its range, 0 to 1.</summary>
    public double ClipShare(int clamp, int slot) => _clipped[clamp][slot];

    /// <summary>True where a clamp had opened so far that what it showed tells nothing of its current.</summary>
    public bool IsClampLost(int clamp, int slot) => _gains[clamp][slot] < LeastGain;

    /// <summary>What an opening clamp still showed of its current; 1 for all others.</summary>
    public double Gain(int clamp, int slot) => _gains[clamp][slot];

    /// <summary>By what share of what it showed a clamp carried more where the crests of its waves were cut, and the standard uncertainty of that; infinite where all that is left is a square wave, NaN where no
    /// waves are known to be cut.</summary>
    public (double Excess, double Error) CutExcess(int clamp, int slot)
    {
        var shown = RawSeries.At(_raw.Amperes[clamp], slot) / _ends[clamp].Amperes;
        if (!(shown > 0) || !IsClipped(clamp, slot)) return (double.NaN, 0);
        var excess = (CutWave.Current(shown) / shown) - 1;
        if (shown > MostShown) return (excess, double.PositiveInfinity);
        // What is cut off a wave takes less of its power than of its rms, or more, by the load's own waves.
        var moved = (CutWave.Current(shown * (1 + _ends[clamp].KnownTo)) / shown) - 1;
        // It did not carry less than it showed.
        return (excess, Math.Min(MostError * excess, Math.Sqrt(((moved - excess) * (moved - excess)) + (WavesDiffer * WavesDiffer * excess * excess))));
    }

    // An interval whose mean is just below the range was partly beyond it.
    private static void SpreadClips(double[] clips, double[]? amperes)
    {
        if (amperes is null) return;
        var top = Enumerable.Range(0, clips.Length).Where(slot => clips[slot] > 0 && amperes[slot] > 0).Select(slot => amperes[slot]).Order().ToArray();
        if (top.Length == 0) return;
        var range = top[top.Length / 2];
        for (var slot = 0; slot < clips.Length; slot++)
        {
            if (clips[slot] == 0 && amperes[slot] > PartlyFrom * range) clips[slot] = Math.Min(1, ((amperes[slot] / range) - PartlyFrom) / (1 - PartlyFrom));
        }
    }

    private static double Gain(GuardSpan span, DateTime time)
    {
        var points = span.Gain;
        if (time <= points[0].At) return points[0].Factor;
        for (var index = 1; index < points.Length; index++)
        {
            if (time > points[index].At) continue;
            var part = (double)(time - points[index - 1].At).Ticks / Math.Max(1, (points[index].At - points[index - 1].At).Ticks);
            return points[index - 1].Factor + (part * (points[index].Factor - points[index - 1].Factor));
        }

        return points[^1].Factor;
    }

    private static T[][] Make<T>(int count) => [new T[count], new T[count], new T[count], new T[count]];
}
