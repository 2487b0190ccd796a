using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Models;

/// <summary>What a share that was learnt while a site was idle says of a working day: little. Where the other lines carry more than they ever did in the good part, the missing one may carry as they do.</summary>
internal sealed class UnseenLoads
{
    private const double BeyondSeen = 1.25;
    private const double Most = 0.98;

    /// <summary>How far lines that are busy together differ, as a share of their mean (our choice).</summary>
    private const double LinesDiffer = 0.4;
    private readonly LineSeries _lines;
    private readonly int[] _others;
    private readonly int _missing;
    private readonly double _hours;
    private readonly double _most = double.PositiveInfinity;

    public UnseenLoads(LineSeries lines, RawSeries raw, HolePredictor predictor)
    {
        (_lines, _hours) = (lines, raw.Grid.Hours);
        _others = [.. raw.Elements.Where(element => !predictor.Missing.Contains(element))];
        _missing = raw.Elements.Length - _others.Length;
        if (raw.IsTotal || _others.Length == 0) return;
        double[] seen = [.. Enumerable.Range(0, raw.Grid.Count).Where(predictor.CanTry).Select(Mean).Where(double.IsFinite)];
        if (seen.Length > 0) _most = BeyondSeen * Robust.Quantile(seen, Most);
    }

    /// <summary>Leans what was predicted half way towards the other lines' mean, in slots whose loads were never seen.</summary>
    public void Lean(int[] slots, double[] watts)
    {
        for (var index = 0; index < slots.Length; index++)
        {
            if (Mean(slots[index]) is var mean && mean > _most) watts[index] = 0.5 * (watts[index] + mean);
        }
    }

    /// <summary>Standard uncertainty that such slots add, watt-hours.</summary>
    public double Uncertainty(int[] slots) => LinesDiffer * _missing * slots.Select(Mean).Where(watts => watts > _most).Sum() * _hours;

    private double Mean(int slot) => _others.Length == 0 ? double.NaN : _others.Average(element => _lines.States[element][slot] <= PowerState.Mended ? _lines.Watts[element][slot] : double.NaN);
}
