using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>A stretch of rows in which the total shows another hook-up than the right one.</summary>
/// <param name="From">First row.</param>
/// <param name="To">Last row.</param>
/// <param name="Hookup">The likeliest.</param>
/// <param name="Confidence">Its probability among all that were weighed.</param>
/// <param name="Odds">Log-odds of it over the right one.</param>
internal sealed record TotalStretch(int From, int To, TotalHookup Hookup, double Confidence, double Odds)
{
    /// <summary>Other hook-ups that explain it about as well, with their probabilities.</summary>
    public IReadOnlyList<(TotalHookup Hookup, double Probability, LineFactors Factors)> Rivals { get; init; } = [];

    /// <summary>What the lines' loads usually draw; null where it was not asked.</summary>
    public LineFactors? Factors { get; init; }
}

/// <summary>Finds, where only the total power was written, when a clamp was turned or went with another line's voltage.</summary>
internal sealed class TotalsFinder
{
    private const double LeastOdds = 10;

    // Lines whose loads stand at angles of their own add up to less than their volt-amperes as well, a little in every row.
    private const double LeastOddsOfRow = 0.1;
    private const int LeastFitted = 20;
    private const double LeastShareOfRight = 0.06;
    private const double LeastShareOfOther = 0.3;
    private const double MostOfTheWeek = 0.5;
    private const double LeastFactor = 0.25;
    private const int LeastRows = 3;
    private const int AtEdge = 3;

    // Distortion and unbalanced angles take a little off the total; clamps differ by a percent.
    private const double LeastSize = 0.8;
    private const double MostSize = 1.12;
    private const double Student = 4;
    private const double Silent = 0.02;
    private const double MostAgainst = 3;
    private const int TooOften = 3;

    // Capacitors overcompensate at light load, not all week; motors at idle lag by eighty and more.
    private const double LeastOfSites = -40;
    private const double MostOfSites = 80;
    private const double LeastUsual = -25;
    private const double MostUsual = 65;
    private const double SteadySize = 0.06;
    private const double SteadyDegrees = 15;
    private const double OfThroughout = 0.88;
    private const int MostWidened = 3000;
    private const double HalfSize = 0.5;
    private const double LeastOfHabit = 4;
    private const double MostOfARun = 12;

    // Capacitors alone stand at ninety, and a clamp's error of two degrees beyond.
    private const double MostOfALoad = 92;
    private readonly GuardFrame _frame;
    private readonly TotalPower _power;
    private readonly List<TotalHookup> _hookups;
    private readonly double _weight;
    private double _size = 0.97;
    private double _degrees = 25;
    private double _sizeSpread = 0.05;
    private double _angleSpread = 0.3;

    private TotalsFinder(GuardFrame frame, TotalPower power)
    {
        (_frame, _power) = (frame, power);
        _hookups = TotalHookup.Of(frame, power.Clamps);
        // Rows close in time stand where they stood.
        _weight = 0.5 * Math.Min(1, Math.Sqrt(frame.Log.IntervalSeconds / 600));
    }

    /// <summary>Finds the stretches; where the order of the lines is not told, in that which explains more, and leaves the frame with it.</summary>
    public static List<TotalStretch> Find(GuardFrame frame, VoltageHistory voltages, CancellationToken cancellation)
    {
        var found = FindEitherWay(frame, voltages, cancellation);
        foreach (var stretch in TotalCourse.Find(frame, voltages, found, cancellation))
        {
            if (!found.Exists(other => other.From <= stretch.To && other.To >= stretch.From)) found.Add(stretch);
        }

        return found;
    }

    private static List<TotalStretch> FindEitherWay(GuardFrame frame, VoltageHistory voltages, CancellationToken cancellation)
    {
        var (taken, found) = (frame.Rotation, FindAsTaken(frame, voltages, cancellation));
        if (frame.Lines < 3 || frame.TotalWatts is null || frame.HasWatts || frame.Options.Check.ToldRotation != Rotation.Unknown) return found;
        frame.Take(taken == Rotation.Acb ? Rotation.Abc : Rotation.Acb);
        var other = FindAsTaken(frame, voltages, cancellation);
        var gap = Said(other, frame.Rotation) - Said(found, taken);
        if (gap > 0) return Doubted(other, found, gap);
        frame.Take(taken);
        return Doubted(found, other, -gap);
    }

    /// <summary>What the other way about is another hook-up is no surer than the way is, log-odds.</summary>
    private static List<TotalStretch> Doubted(List<TotalStretch> found, List<TotalStretch> other, double gap) => found.ConvertAll(stretch =>
        other.Exists(way => way.From <= stretch.To && way.To >= stretch.From && !way.Hookup.IsLike(stretch.Hookup)) ? stretch with { Confidence = stretch.Confidence / (1 + Math.Exp(-gap)) } : stretch);

    private static double Said(List<TotalStretch> found, Rotation rotation) => found.Sum(stretch => stretch.Odds) + (rotation == Rotation.Acb ? GuardFrame.LogAcb : 0);

    private static List<TotalStretch> FindAsTaken(GuardFrame frame, VoltageHistory voltages, CancellationToken cancellation)
    {
        // By day on a site with generation a total may stand anywhere.
        if (frame.Options.Check.MayExport || TotalPower.Of(frame, voltages) is not { } power) return [];
        var finder = new TotalsFinder(frame, power);
        if (finder.Throughout() is { } throughout) return [throughout];
        var found = finder.Learn() ? finder.Find(cancellation) : [];
        foreach (var stretch in TotalAlike.Find(frame, power, finder._hookups))
        {
            found.RemoveAll(other => other.From >= stretch.From - 1 && other.To <= stretch.To + 1);
            if (!found.Exists(other => other.From <= stretch.To && other.To >= stretch.From)) found.Add(stretch);
        }

        return found;
    }

    /// <summary>The hook-up that was another one from the first row to the last: under the right one the total is of a site's size in every row and stands where no site does all week, under one other it stands where
    /// sites do.</summary>
    private TotalStretch? Throughout()
    {
        if (!_power.HasSign) return null;
        var all = _hookups.ConvertAll(All);
        // A site whose capacitors stay on by night lags as soon as it works.
        if (!all[0].IsSteady || !(all[0].Most < LeastOfSites || all[0].Least > MostOfSites)) return null;
        var (last, best) = (_frame.Count - 1, 0);
        for (var state = 1; state < _hookups.Count; state++)
        {
            if (!all[state].IsSteady || all[state].Degrees is < LeastUsual or > MostUsual || Alike(_hookups[state], 0, last) < 0) continue;
            if (best > 0) return null;
            best = state;
        }

        return best == 0 ? null : new TotalStretch(0, last, _hookups[best], OfThroughout, LeastOdds);
    }

    /// <summary>What the rows make of a site under a hook-up: whether nearly all are of one size, that of a site, their usual angle, and between which they stand but for three in a hundred.</summary>
    private (bool IsSteady, double Degrees, double Least, double Most) All(TotalHookup hookup)
    {
        var sites = Sites(hookup, out var rows);
        if (sites.Count < LeastFitted || sites.Count < 0.9 * rows) return default;
        double[] sizes = [.. sites.Select(site => site.Magnitude)], angles = [.. sites.Select(site => site.AngleDegrees)];
        return (Robust.Median(sizes) is > LeastSize and < MostSize && Robust.Deviation(sizes) < SteadySize && Robust.Deviation(angles) < SteadyDegrees, Robust.Median(angles), Robust.Quantile(angles, 0.03), Robust.Quantile(angles, 0.97));
    }

    /// <summary>Learns how large the total usually is and at which angle, under the hook-up that makes of enough rows what a site's total is; false where none does.</summary>
    private bool Learn()
    {
        var fits = _hookups.ConvertAll(Fit);
        // The right one teaches by a small part of the week; another by most of it, or by much if no third does nearly as well.
        var best = fits[0].Sizes.Count >= Math.Max(LeastFitted, LeastShareOfRight * fits[0].Rows) ? fits[0] : fits.MaxBy(fit => fit.Share)!;
        var isClear = best == fits[0] || best.Share > MostOfTheWeek || (best.Share > LeastShareOfOther && fits.TrueForAll(fit => fit == best || fit.Share < 0.7 * best.Share));
        if (isClear && best.Sizes.Count >= LeastFitted)
        {
            (_size, _degrees) = (Robust.Median([.. best.Sizes]), Robust.Median([.. best.Degrees]));
            _sizeSpread = Math.Clamp(1.5 * Robust.Deviation([.. best.Sizes]), 0.03, 0.1);
            _angleSpread = Math.Clamp(1.5 * Robust.Deviation([.. best.Degrees]) * Math.PI / 180, 0.08, 0.45);
            return true;
        }

        // Exchanged for most of the time the total is next to nothing, and teaches nothing: an ordinary site is taken.
        double[] shown = [.. _power.Values.Where(value => value is not null).Select(value => value!.Value.Magnitude).Where(double.IsFinite)];
        return shown.Length > 20 && Robust.Median(shown) < 0.25;
    }

    /// <summary>The rows that are a site's total by one hook-up: of the size of its volt-amperes, and going to the load.</summary>
    private SiteFit Fit(TotalHookup hookup)
    {
        var sites = Sites(hookup, out var rows);
        var fit = new SiteFit { Rows = rows };
        foreach (var site in sites)
        {
            if (site.Magnitude is < LeastSize or > MostSize || Math.Abs(site.AngleDegrees) > MostOfALoad) continue;
            fit.Sizes.Add(site.Magnitude);
            fit.Degrees.Add(_power.HasSign ? site.AngleDegrees : Math.Abs(site.AngleDegrees));
        }

        return fit;
    }

    /// <summary>What the rows make of a site under a hook-up, where that leaves enough of it to say; and how many rows tell anything.</summary>
    private List<Phasor> Sites(TotalHookup hookup, out int rows)
    {
        rows = 0;
        var sites = new List<Phasor>();
        for (var row = 0; row < _frame.Count; row += Math.Max(1, _frame.Count / 20000))
        {
            if (_power.Values[row] is not { } value || double.IsNaN(value.Imaginary)) continue;
            rows++;
            var factor = _power.Factor(hookup, row);
            if (factor.Magnitude >= LeastFactor) sites.Add(value / factor);
        }

        return sites;
    }

    private sealed class SiteFit
    {
        public int Rows { get; init; }

        public List<double> Sizes { get; } = [];

        public List<double> Degrees { get; } = [];

        public double Share => Rows == 0 ? 0 : (double)Sizes.Count / Rows;
    }

    private List<TotalStretch> Find(CancellationToken cancellation)
    {
        var chain = new StateChain([.. _hookups.Select(hookup => hookup.Enter)], _frame.Count);
        for (var row = 0; row < _frame.Count; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            for (var state = 0; state < _hookups.Count; state++) chain.Says[state] = Say(row, _hookups[state]);
            chain.Take();
        }

        var history = chain.History();
        var found = new List<TotalStretch>();
        for (var row = 0; row < history.Length; row++)
        {
            if (history[row] == 0) continue;
            var last = row;
            while (last + 1 < history.Length && history[last + 1] != 0) last++;
            if (Best(row, last) is { } stretch) found.Add(Widened(stretch));
            row = last;
        }

        for (var index = found.Count - 1; index > 0; index--)
        {
            var (one, other) = (found[index - 1], found[index]);
            if (one.Hookup != other.Hookup || IsAgainst(one.Hookup, one.To + 1, other.From - 1)) continue;
            found[index - 1] = one with { To = other.To, Confidence = Math.Max(one.Confidence, other.Confidence), Odds = one.Odds + other.Odds };
            found.RemoveAt(index);
        }

        // What comes and goes time and again is a load.
        return found.Count < TooOften ? ByHabits(found) : [];
    }

    /// <summary>Edges where rows too small to tell by themselves go on as they used to, or as the stretch does.</summary>
    private List<TotalStretch> ByHabits(List<TotalStretch> found)
    {
        if (found.Count == 0 || !_power.HasVars) return found;
        var isRight = new bool[_frame.Count];
        Array.Fill(isRight, true);
        var day = (int)(86400 / _frame.Log.IntervalSeconds);
        foreach (var stretch in found)
        {
            // A day to either side may belong to it.
            for (var row = Math.Max(0, stretch.From - day); row <= Math.Min(_frame.Count - 1, stretch.To + day); row++) isRight[row] = false;
        }

        var habits = new TotalHabits(_frame, _power, _hookups[0], isRight);
        return found.ConvertAll(stretch => stretch with { From = Edge(habits, stretch, -1), To = Edge(habits, stretch, 1) });
    }

    /// <summary>The last row of a stretch on one side: where what the rows say for it, added up from within, is most.</summary>
    private int Edge(TotalHabits habits, TotalStretch stretch, int way)
    {
        var edge = way < 0 ? stretch.From : stretch.To;
        if (edge == 0 || edge == _frame.Count - 1) return edge;
        var most = Math.Min(MostWidened, _frame.Count);
        var (sum, best, at) = (0.0, 0.0, edge);
        for (var row = edge + way; row >= 0 && row < _frame.Count && Math.Abs(row - edge) <= most; row += way)
        {
            sum += habits.Say(row, stretch.Hookup, _hookups[0]) is not 0 and var said ? said : OfSize(row, stretch.Hookup);
            if (sum > best + 1e-9) (best, at) = (sum, row);
            if (sum < best - MostOfARun) break;
        }

        return best > LeastOfHabit ? at : edge;
    }

    /// <summary>What a row too small for its angle says by its size: under the right hook-up a total is as large as its volt-amperes, but for distortion.</summary>
    private double OfSize(int row, TotalHookup hookup)
    {
        if (_power.Values[row] is not null || !_power.CarriesALittle(row) || _power.At(row) is not { } value) return 0;
        double right = value.Magnitude / _power.Factor(_hookups[0], row).Magnitude, factor = _power.Factor(hookup, row).Magnitude;
        if (right > LeastSize) return -1;
        return right < HalfSize && (factor < LeastFactor || value.Magnitude / factor is > HalfSize and < 2) ? HalfSize : 0;
    }

    /// <summary>To the recording's ends where nothing on the way says that it was otherwise.</summary>
    private TotalStretch Widened(TotalStretch stretch)
    {
        var (from, to) = (stretch.From, stretch.To);
        if (!IsAgainst(stretch.Hookup, 0, from - 1)) from = 0;
        if (!IsAgainst(stretch.Hookup, to + 1, _frame.Count - 1)) to = _frame.Count - 1;
        return stretch with { From = from, To = to };
    }

    /// <summary>True where some rows speak for the right hook-up and against another, or a part of them does so loudly, however many others were silent.</summary>
    private bool IsAgainst(TotalHookup hookup, int from, int to)
    {
        double odds = 0, run = 0;
        for (var row = from; row <= to; row++)
        {
            var said = Say(row, _hookups[0]) - Say(row, hookup);
            (odds, run) = (odds + said, Math.Max(0, run + said));
            if (run > MostOfARun) return true;
        }

        return odds > MostAgainst;
    }

    /// <summary>The hook-up that explains a stretch best, by the totals, by the currents that go on in another channel, and by the voltages' small differences, which move with the leads.</summary>
    private TotalStretch? Best(int from, int to)
    {
        if (to - from + 1 < LeastRows) return null;
        // The rows of the edges may be mixed.
        var (first, last) = to - from >= 4 ? (from + 1, to - 1) : (from, to);
        var logs = new double[_hookups.Count];
        for (var state = 0; state < _hookups.Count; state++)
        {
            var hookup = _hookups[state];
            logs[state] = -hookup.Enter + Currents(hookup, from, to) + Voltages(hookup, first, last) + Alike(hookup, first, last);
            for (var row = first; row <= last; row++) logs[state] += Say(row, hookup);
        }

        var best = Array.IndexOf(logs, logs.Max());
        var odds = logs[best] - logs[0];
        return best == 0 || odds < LeastOdds + (LeastOddsOfRow * (last - first + 1)) ? null : new TotalStretch(from, to, _hookups[best], 1 / logs.Sum(log => Math.Exp(log - logs[best])), odds);
    }

    /// <summary>Log-likelihood of a row's total under a hook-up: a site's total of the usual size and angle, times the hook-up's factor.</summary>
    private double Say(int row, TotalHookup hookup)
    {
        // Where a row says nothing nothing changed in it.
        if (_power.Values[row] is not { } value) return hookup == _hookups[0] ? Silent : 0;
        var factor = _power.Factor(hookup, row);
        if (hookup == _hookups[0] && !double.IsNaN(value.Imaginary) && (value / factor) is var site && Math.Abs(site.AngleDegrees) < MostOfALoad)
        {
            // Power that goes to the load may stand at any angle, and as steadily as a turned one: only its size tells.
            var spread = _sizeSpread + 0.03;
            return _weight * Say2(new Phasor(factor.Magnitude * (site.Magnitude - _size), 0), spread * Math.Max(0.3, factor.Magnitude), (_angleSpread * factor.Magnitude) + 0.03);
        }

        var against = hookup == _hookups[0] ? 0 : _power.Against(hookup, row);
        var expected = Phasor.FromDegrees(_size, _degrees) * factor;
        double along = (_sizeSpread * factor.Magnitude) + 0.03, across = (_angleSpread * factor.Magnitude) + 0.03;
        var turn = Phasor.FromDegrees(1, -expected.AngleDegrees);
        if (double.IsNaN(value.Imaginary)) return _weight * (Say1(value.Real - expected.Real, Math.Sqrt((along * along) + (across * across))) - against);
        var best = Say2((value - expected) * turn, along, across);
        // A power factor tells the size of the vars alone.
        if (!_power.HasSign) best = Math.Max(best, Say2((new Phasor(value.Real, -value.Imaginary) - expected) * turn, along, across));
        return _weight * (best - against);
    }

    private static double Say1(double off, double spread) => -Math.Log(spread) - (0.5 * (Student + 1) * Math.Log(1 + (off * off / (Student * spread * spread))));

    private static double Say2(Phasor off, double along, double across) =>
        -Math.Log(along * across) - (0.5 * (Student + 2) * Math.Log(1 + (((off.Real * off.Real / (along * along)) + (off.Imaginary * off.Imaginary / (across * across))) / Student)));

    /// <summary>A clamp that went to another line goes on with that line's current; over both edges.</summary>
    private double Currents(TotalHookup hookup, int from, int to)
    {
        double log = 0;
        foreach (var (outside, inside) in new[] { (from - AtEdge, from + 1), (to + 2, to - AtEdge) })
        {
            if (outside < 0 || outside + AtEdge > _frame.Count || inside < 0 || inside + AtEdge > _frame.Count) continue;
            foreach (var clamp in _power.Clamps)
            {
                var before = Mean(_frame.Amperes[hookup.Clamps[clamp].On], outside);
                var now = Mean(_frame.Amperes[clamp], inside);
                var off = Math.Log(now / before);
                if (double.IsFinite(off)) log += Say1(off, 0.15);
            }
        }

        return log;
    }

    private static double Mean(double[]? column, int from)
    {
        if (column is null) return double.NaN;
        double sum = 0;
        for (var row = from; row < from + AtEdge; row++) sum += column[row] / AtEdge;
        return sum;
    }

    /// <summary>No two voltages are alike to the last tenth of a percent: which stands a little higher goes with the lead.</summary>
    private double Voltages(TotalHookup hookup, int from, int to)
    {
        double log = 0;
        for (var channel = 0; channel < _frame.Lines; channel++)
        {
            var source = hookup.MovesLeads ? SourceOf(hookup, channel) : channel;
            double inside = Level(channel, from, to, true), outside = Level(source, from, to, false);
            if (double.IsNaN(inside) || double.IsNaN(outside)) continue;
            log += Say1(inside - outside, 0.0015);
        }

        return log;
    }

    /// <summary>The channel that usually reads what this one reads with the leads so.</summary>
    private int SourceOf(TotalHookup hookup, int channel)
    {
        if (!_frame.IsPairs) return hookup.Leads[channel];
        var (one, other) = (hookup.Leads[channel], hookup.Leads[(channel + 1) % 3]);
        return (one + 1) % 3 == other ? one : other;
    }

    /// <summary>By how much a channel reads above the mean of all, logarithm, within a stretch or outside it.</summary>
    private double Level(int channel, int from, int to, bool inside)
    {
        var offs = new List<double>();
        var stride = Math.Max(1, _frame.Count / 4000);
        for (var row = inside ? from : 0; row < (inside ? to + 1 : _frame.Count); row += inside ? 1 : stride)
        {
            if ((!inside && row >= from - 1 && row <= to + 1) || _power.Values[row] is null) continue;
            double mean = 0;
            for (var line = 0; line < _frame.Lines; line++) mean += _frame.Volts[line]![row] / _frame.Lines;
            offs.Add(Math.Log(_frame.Volts[channel]![row] / mean));
        }

        return offs.Count < 3 ? double.NaN : Robust.Median([.. offs]);
    }

    /// <summary>Two clamps on one conductor read the same in every row, but for their gains; others do so only where all loads are balanced.</summary>
    private double Alike(TotalHookup hookup, int from, int to)
    {
        if (hookup.OnOne is not var (moved, on) || _frame.Amperes[moved] is not { } one || _frame.Amperes[on] is not { } other) return 0;
        var ratios = new double[to - from + 1];
        for (var row = from; row <= to; row++) ratios[row - from] = Math.Log(one[row] / other[row]);
        return Math.Abs(Robust.Median(ratios)) < 0.03 && !(Robust.Deviation(ratios) > 0.015) ? 2 : -40;
    }
}
