using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>Runs a virtual week once.</summary>
internal sealed class WeekRun
{
    private readonly WeekRecipe _recipe;
    private readonly int _stepSeconds;
    private readonly int _stepsPerRow;
    private readonly int _rows;
    private readonly Mishap[] _offs;
    private readonly Mishap[] _jumps;
    private readonly Mishap[] _sticks;

    public WeekRun(WeekRecipe recipe)
    {
        _recipe = recipe;
        _stepSeconds = recipe.IntervalSeconds switch { >= 120 => 60, >= 2 => Math.Max(1, recipe.IntervalSeconds / 2), _ => 1 };
        while (recipe.IntervalSeconds % _stepSeconds != 0) _stepSeconds--;
        _stepsPerRow = recipe.IntervalSeconds / _stepSeconds;
        _rows = (int)Math.Floor((recipe.Days * 86400 / recipe.IntervalSeconds) + 1e-9);
        _offs = [.. recipe.Mishaps.Where(mishap => mishap.Kind is MishapKind.RecorderOff or MishapKind.OutageWithRecorder)];
        _jumps = [.. recipe.Mishaps.Where(mishap => mishap.Kind == MishapKind.ClockForward).OrderBy(mishap => mishap.FromSeconds)];
        _sticks = [.. recipe.Mishaps.Where(mishap => mishap.Kind == MishapKind.Stuck)];
    }

    public VirtualWeek Make()
    {
        var overRange = _recipe.Mishaps.FirstOrDefault(mishap => mishap.Kind == MishapKind.OverRange);
        var limit = double.PositiveInfinity;
        if (overRange is not null)
        {
            var free = new WeekPass(_recipe, _stepSeconds, limit);
            for (var row = 0; row < _rows; row++) free.Row(row, _stepsPerRow);
            limit = overRange.Size * free.LargestAmperes;
        }

        var pass = new WeekPass(_recipe, _stepSeconds, limit);
        var columns = new WeekTable(_recipe, pass.RatingAmperes);
        var clips = new List<(int Row, int Clamp)>();
        var starts = new List<long>(_rows);
        double[] row14 = new double[14];
        double[][] stuck = [.. _sticks.Select(_ => new double[14])];
        var wasStuck = new bool[_sticks.Length];
        for (var row = 0; row < _rows; row++)
        {
            double from = (double)row * _recipe.IntervalSeconds, to = from + _recipe.IntervalSeconds;
            pass.Row(row, _stepsPerRow);
            var clipped = pass.Recorder.Clipped;
            for (var clamp = 0; clamp < 3; clamp++)
            {
                if (2 * clipped[clamp] > _stepsPerRow) clips.Add((row, clamp));
                clipped[clamp] = 0;
            }

            pass.Recorder.Give(row14);
            foreach (var off in _offs)
            {
                if (off.Detail == 1 && off.ToSeconds > from && off.ToSeconds <= to) columns.RestartCounter();
            }

            if (Array.Exists(_offs, off => off.FromSeconds < to && off.ToSeconds > from)) continue;
            for (var index = 0; index < _sticks.Length; index++)
            {
                if (_sticks[index].FromSeconds > from || _sticks[index].ToSeconds < to) continue;
                if (!wasStuck[index]) row14.CopyTo(stuck[index], 0);
                wasStuck[index] = true;
                Stick(_sticks[index].First, stuck[index], row14);
            }

            starts.Add(_recipe.Start.Ticks + (long)((from + ClockOffset(from)) * TimeSpan.TicksPerSecond));
            columns.Add(row14);
        }

        var log = columns.ToLog([.. starts]);
        return new VirtualWeek(_recipe, log, Truth(pass, clips));
    }

    private static void Stick(int channel, double[] held, double[] row)
    {
        if (channel < 3)
        {
            row[channel] = held[channel];
            return;
        }

        row[channel] = held[channel];
        if (channel >= 6) return;
        row[7 + channel - 3] = held[7 + channel - 3];
        row[10 + channel - 3] = held[10 + channel - 3];
    }

    private double ClockOffset(double seconds)
    {
        double offset = 0;
        foreach (var jump in _jumps)
        {
            // The interval in which the clock is set keeps its old time.
            if (seconds >= jump.FromSeconds) offset += jump.Size;
        }

        return offset;
    }

    private DateTime Clock(double seconds) => _recipe.Start.AddSeconds(seconds + ClockOffset(seconds));

    private WeekTruth Truth(WeekPass pass, List<(int Row, int Clamp)> clips)
    {
        var spans = new List<TrueSpan>();
        double end = (double)_rows * _recipe.IntervalSeconds;
        foreach (var mishap in _recipe.Mishaps)
        {
            if (mishap.Kind == MishapKind.OverRange) continue;
            var (leads, clamps) = Concerned(mishap);
            var from = Math.Max(0, mishap.FromSeconds);
            var to = Math.Min(end, mishap.ToSeconds);
            if (mishap.Kind == MishapKind.ClockForward)
            {
                spans.Add(new TrueSpan(mishap, leads, clamps, Clock(from - 1e-3), Clock(from)));
                continue;
            }

            spans.Add(new TrueSpan(mishap, leads, clamps, Clock(from), Clock(to - 1e-6)));
        }

        if (_recipe.Mishaps.FirstOrDefault(mishap => mishap.Kind == MishapKind.OverRange) is { } over)
        {
            foreach (var clamp in Service.Of(_recipe.Service).Clamps.Select(clamp => (int)clamp).Where(clamp => clamp < 3))
            {
                var rows = clips.Where(clip => clip.Clamp == clamp).Select(clip => clip.Row).ToList();
                for (var index = 0; index < rows.Count;)
                {
                    var last = index;
                    while (last + 1 < rows.Count && rows[last + 1] - rows[last] == 1) last++;
                    double from = (double)rows[index] * _recipe.IntervalSeconds, to = (double)(rows[last] + 1) * _recipe.IntervalSeconds;
                    spans.Add(new TrueSpan(over, [], [(Clamp)clamp], Clock(from), Clock(to - 1e-6)));
                    index = last + 1;
                }
            }
        }

        return new WeekTruth(
            [.. spans.OrderBy(span => span.From)], Pieces(pass.Recorder, end), pass.LineEnergy.Sum(), [.. pass.LineEnergy]);
    }

    private ImmutableArray<TruePiece> Pieces(WeekRecorder recorder, double end)
    {
        var bounds = _recipe.Mishaps.Where(mishap => mishap.IsHookup)
            .SelectMany(mishap => new[] { mishap.FromSeconds, mishap.ToSeconds })
            .Where(bound => bound > 0 && bound < end).Append(0).Append(end).Distinct().Order().ToArray();
        var pieces = ImmutableArray.CreateBuilder<TruePiece>();
        for (var index = 0; index + 1 < bounds.Length; index++)
        {
            recorder.Place((bounds[index] + bounds[index + 1]) / 2);
            pieces.Add(new TruePiece(Clock(bounds[index]), Clock(bounds[index + 1] - 1e-6), recorder.ToHookup()));
        }

        return pieces.ToImmutable();
    }

    private (ImmutableArray<Lead> Leads, ImmutableArray<Clamp> Clamps) Concerned(Mishap mishap)
    {
        var service = Service.Of(_recipe.Service);
        return mishap.Kind switch
        {
            MishapKind.LeadOff or MishapKind.LeadOnNeutral => ([(Lead)mishap.First], []),
            MishapKind.LeadMoved or MishapKind.LeadsExchanged => ([(Lead)Math.Min(mishap.First, mishap.Second), (Lead)Math.Max(mishap.First, mishap.Second)], []),
            MishapKind.NeutralLeadOff => ([Lead.VN], []),
            MishapKind.NeutralExchanged => ([(Lead)mishap.First, Lead.VN], []),
            MishapKind.ClampReversed or MishapKind.ClampOff or MishapKind.ClampOpening or MishapKind.RatioWrong or MishapKind.ClampOnNeutral =>
                ([], [(Clamp)mishap.First]),
            MishapKind.ClampMoved or MishapKind.ClampsExchanged => ([], [(Clamp)Math.Min(mishap.First, mishap.Second), (Clamp)Math.Max(mishap.First, mishap.Second)]),
            MishapKind.ClampsRotated => ([], service.Clamps),
            MishapKind.Stuck => mishap.First < 3 ? ([(Lead)mishap.First], []) : ([], [(Clamp)(mishap.First - 3)]),
            MishapKind.LineLost or MishapKind.Dip => ([(Lead)mishap.First], []),
            // With A or C on the phase that stayed all three lines of a high-leg service lose part of their voltage.
            MishapKind.UpstreamPhaseLost when _recipe.Service == ServiceKind.HighLeg && mishap.First != 1 => ([.. service.Leads.Where(lead => lead != Lead.VN)], []),
            MishapKind.UpstreamPhaseLost => ([.. service.Leads.Where(lead => lead != Lead.VN && (int)lead != mishap.First)], []),
            MishapKind.SupplyNeutralLost => ([Lead.VN], []),
            MishapKind.Outage => ([.. service.Leads.Where(lead => lead != Lead.VN)], []),
            _ => ([], []),
        };
    }
}
