using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Mending.Maps;
using Leadwright.Core.Mending.Models;
using Leadwright.Core.Mending.Tables;

namespace Leadwright.Core.Mending;

/// <summary>Undoes what can honestly be undone in a log of intervals, and says with what uncertainty.</summary>
/// <remarks>
/// The recording stays as it is; the answer is a layer over it. What can be had by arithmetic is had so; the rest is learnt from the good part of the same
/// recording, and how well that works is measured there. Derivation: docs/methods/mending.md. Measured on virtual weeks:
/// docs/methods/mending-accuracy.md. Thread-safe; the same input gives the same answer.
/// </remarks>
public static class IntervalMender
{
    /// <summary>What a recorder loses in its own arithmetic before it writes, as a share (our choice: a hundred-thousandth).</summary>
    private const double OwnArithmetic = 1e-5;

    /// <summary>What a product of means leaves out, and three written values lose, where a power is worked out from voltage, current and power factor, as a share (our choice; outside weeks: to a ten-thousandth).</summary>
    private const double OfFactors = 3e-4;

    private const double LongGapHours = 4;
    private const int MostAlternatives = 3;

    /// <summary>Mends a log.</summary>
    /// <param name="log">The log, base units.</param>
    /// <param name="guard">What the guard said of it.</param>
    /// <param name="options">What else is known.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The log has no rows, or the coverage is not between 0 and 1.</exception>
    public static MendReport Mend(IntervalLog log, GuardReport guard, MendOptions options, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(guard);
        ArgumentNullException.ThrowIfNull(options);
        if (log.Count == 0) throw new ArgumentException("The log has no rows.", nameof(log));
        if (!(options.Coverage is > 0 and < 1)) throw new ArgumentException($"The coverage must lie between 0 and 1; found {options.Coverage}.", nameof(options));
        return HighLegNames.Find(log, options.Service, guard.Timeline) is { } names ? Renamed(log, guard, options, names, cancellation) : Mended(log, guard, options, cancellation);
    }

    /// <summary>A high leg elsewhere than at B: the lines are renamed, mended, and named back.</summary>
    private static MendReport Renamed(IntervalLog log, GuardReport guard, MendOptions options, HighLegNames names, CancellationToken cancellation)
    {
        var report = Mended(names.Renamed(log), names.Renamed(guard), options, cancellation);
        return report with
        {
            Log = HighLegNames.WithColumns(report.Log, log.Columns),
            Corrections = [.. report.Corrections.Select(entry => entry with { Leads = names.Renamed(entry.Leads), Clamps = names.Renamed(entry.Clamps) })],
            Unmendable = [.. report.Unmendable.Select(entry => entry with { Leads = names.Renamed(entry.Leads), Clamps = names.Renamed(entry.Clamps) })],
            Before = Renamed(report.Before, names),
            After = Renamed(report.After, names),
        };
    }

    private static LoadFigures Renamed(LoadFigures figures, HighLegNames names) => figures with
    {
        PhaseWattHours = names.Renamed(figures.PhaseWattHours),
        PhasePeakWatts = names.Renamed(figures.PhasePeakWatts),
        PhasePowerFactors = names.Renamed(figures.PhasePowerFactors),
    };

    private static MendReport Mended(IntervalLog log, GuardReport guard, MendOptions options, CancellationToken cancellation)
    {
        var grid = new SlotGrid(log, guard);
        var raw = new RawSeries(log, grid, options.Service);
        var flags = new ChannelFlags(grid, guard, raw);
        var mapper = new LineMapper(raw, options.Service, flags, guard.Timeline, options.Nominal);
        var lines = mapper.Map(cancellation);
        var opening = OpeningUncertainty(lines, raw, flags);
        VoltageExcess.Put(lines, raw);
        var holes = raw.HasPower ? new HoleFiller(lines, raw).Fill(true, cancellation) : [];
        var (corrections, unmendable) = new CorrectionFinder(raw, lines, guard, options.Service).Find(mapper.Maps, holes);
        var energy = raw.HasPower ? Energy(guard, options, mapper, lines, raw, flags, holes, opening, cancellation) : null;
        var figures = new FigureMaker(raw, options);
        var table = new TableMaker(log, raw, lines, mapper, flags);
        var (mended, standings) = table.Make();
        return new MendReport(
            log.From, log.To, mended, standings, corrections, unmendable, energy, figures.Before(), figures.After(lines))
        {
            IsUnjudged = guard.Usable.IsEmpty,
            Unjudged = guard.Notes,
            IsUndecided = guard.Usable.IsEmpty || guard.Notes.Contains(GuardNoteKind.HookupUndecided) || guard.Notes.Contains(GuardNoteKind.TooFewIntervals)
                || guard.Timeline.Pieces.Any(piece => piece.Confidence < GuardSpan.SureFrom),
        };
    }

    private static MendedEnergy Energy(
        GuardReport guard, MendOptions options, LineMapper mapper, LineSeries lines, RawSeries raw, ChannelFlags flags,
        IReadOnlyList<FilledHole> holes, double opening, CancellationToken cancellation)
    {
        var total = Total(lines, raw);
        var mixture = new EnergyMixture(total);
        foreach (var hole in holes) mixture.AddError(hole.Uncertainty, hole.Freedom, options.Coverage);
        // One clamp's holes are short or long together.
        mixture.AddFactor(holes.Sum(hole => hole.Beyond), FilledHole.BeyondSpread);
        // Three pair voltages give the angles themselves, as well as they agree; sizes to neutral only say by how much the service is off its own shape.
        var angle = raw.IsThreeWire && mapper.HasAllPairs ? 0.002 : 1.5 * mapper.Spread;
        foreach (var line in raw.Elements)
        {
            mixture.AddError(angle * Math.Abs(mapper.AngleSensitivity[line]), double.PositiveInfinity, options.Coverage);
            mixture.AddError(mapper.Spread * Math.Abs(mapper.SizeSensitivity[line]), double.PositiveInfinity, options.Coverage);
        }

        mixture.AddError(ClampDisagreement(lines, raw, mapper.LeftOver), double.PositiveInfinity, options.Coverage);
        mixture.AddError(LineSeries.FactorsApart * Math.Sqrt(lines.SharesMoved.Sum(Square)), double.PositiveInfinity, options.Coverage);
        mixture.AddError(lines.StarPointWattHours, double.PositiveInfinity, options.Coverage);
        mixture.AddError(opening, 6, options.Coverage);
        mixture.AddError(Rounding(lines, raw), double.PositiveInfinity, options.Coverage);
        mixture.AddError((raw.IsByFactor ? OfFactors : OwnArithmetic) * Math.Abs(total), double.PositiveInfinity, options.Coverage);
        mixture.AddError(options.AccuracyPercent / 100 / Math.Sqrt(3) * Math.Abs(total), double.PositiveInfinity, options.Coverage);
        AddGaps(options, lines, raw, mixture);
        ClockSteps.Add(guard, lines, raw, mixture);
        OpenSide.Add(guard, raw, total, mixture);
        AddAlternatives(guard, options, raw, flags, total, mixture, cancellation);
        var tail = (1 - options.Coverage) / 2;
        return new MendedEnergy(Recorded(raw), total, Math.Min(mixture.Quantile(tail), total), Math.Max(mixture.Quantile(1 - tail), total), options.Coverage);
    }

    private static double Total(LineSeries lines, RawSeries raw)
    {
        var sum = 0.0;
        foreach (var element in raw.Elements)
        {
            for (var slot = 0; slot < raw.Grid.Count; slot++) sum += double.IsNaN(lines.Watts[element][slot]) ? 0 : lines.Watts[element][slot];
        }

        return sum * raw.Grid.Hours;
    }

    private static double Recorded(RawSeries raw)
    {
        var sum = 0.0;
        for (var slot = 0; slot < raw.Grid.Count; slot++)
        {
            if (raw.TotalWatts is { } totals && double.IsFinite(totals[slot]))
            {
                sum += totals[slot];
                continue;
            }

            foreach (var element in raw.Elements) sum += double.IsFinite(RawSeries.At(raw.Watts[element], slot)) ? raw.Watts[element]![slot] : 0;
        }

        return sum * raw.Grid.Hours;
    }

    // What an opening clamp lost is known as well as its course of opening: a fifth, by the spread of the guard's on virtual weeks.
    private static double OpeningUncertainty(LineSeries lines, RawSeries raw, ChannelFlags flags)
    {
        var added = 0.0;
        foreach (var element in raw.Elements)
        {
            for (var slot = 0; slot < raw.Grid.Count; slot++)
            {
                var clamp = lines.ClampOf[element][slot];
                if (clamp < 0 || !double.IsFinite(lines.Watts[element][slot])) continue;
                added += Math.Abs(lines.Watts[element][slot] * (1 - flags.Gain(clamp, slot)));
            }
        }

        return 0.2 * added * raw.Grid.Hours;
    }

    // A line that another clamp read is read with that clamp's errors. Those of all clamps alike are the recorder's accuracy; by how much the clamps of a
    // set differ is assumed: half a percent and half a degree.
    private static double ClampDisagreement(LineSeries lines, RawSeries raw, double leftOver)
    {
        const double Gain = 0.005;
        const double Angle = 0.009;
        if (raw.IsTotal) return 0;
        var watts = new double[3];
        var vars = new double[3];
        var alone = 0.0;
        foreach (var line in raw.Elements)
        {
            for (var slot = 0; slot < raw.Grid.Count; slot++)
            {
                if (lines.States[line][slot] != PowerState.Mended) continue;
                var clamp = lines.ClampOf[line][slot];
                if (clamp == line) continue;
                var (own, turned) = (lines.Watts[line][slot], double.IsNaN(lines.Vars[line][slot]) ? 0 : lines.Vars[line][slot]);
                if (clamp < 0)
                {
                    alone += Math.Sqrt((own * own) + (turned * turned));
                    continue;
                }

                watts[clamp] += own - (lines.States[clamp][slot] == PowerState.Mended ? lines.Watts[clamp][slot] : 0);
                vars[clamp] += turned - (lines.States[clamp][slot] == PowerState.Mended && lines.Vars[clamp][slot] is var other && double.IsFinite(other) ? other : 0);
            }
        }

        // Where the currents were all known, what they left over is what one misses that is told from the others.
        var variance = Square((double.IsNaN(leftOver) ? Math.Sqrt(2) * Angle : Math.Max(Angle, leftOver)) * alone);
        for (var clamp = 0; clamp < 3; clamp++) variance += Square(Gain * watts[clamp]) + Square(Angle * vars[clamp]);
        return Math.Sqrt(variance) * raw.Grid.Hours;
    }

    private static double Square(double value) => value * value;

    // Values are written to a step; each is off by up to half of it, and one that stands still by the same in all its rows.
    private static double Rounding(LineSeries lines, RawSeries raw)
    {
        var variance = 0.0;
        foreach (var element in raw.Elements)
        {
            if (raw.Watts[element] is not { } watts) continue;
            var step = double.PositiveInfinity;
            for (var slot = 1; slot < watts.Length; slot++)
            {
                var difference = Math.Abs(watts[slot] - watts[slot - 1]);
                if (difference > 1e-9 * Math.Abs(watts[slot]) && difference < step) step = difference;
            }

            if (double.IsInfinity(step)) continue;
            // A load that comes back to a level comes back to its error: the rows in which a value stayed add up, whenever they were; those it was passed through in do not.
            foreach (var (stayed, passed) in Stays(watts, lines.Scales[element], step).Values) variance += step * step / 12 * ((stayed * stayed) + passed);
        }

        return Math.Sqrt(variance) * raw.Grid.Hours;
    }

    /// <summary>For every value that was written, in steps: the rows in which it stood as in the row before, and the others, each over the ratio that it is divided by.</summary>
    private static Dictionary<long, (double Stayed, double Passed)> Stays(double[] watts, double[] scales, double step)
    {
        var stays = new Dictionary<long, (double Stayed, double Passed)>();
        for (var slot = 0; slot < watts.Length; slot++)
        {
            if (!double.IsFinite(watts[slot])) continue;
            var value = (long)Math.Round(watts[slot] / step);
            var (stayed, passed) = stays.GetValueOrDefault(value);
            var weight = Math.Abs(scales[slot]) is > 0 and var scale && double.IsFinite(scale) ? 1 / scale : 1;
            stays[value] = slot > 0 && Math.Abs(watts[slot] - watts[slot - 1]) < 0.5 * step ? (stayed + weight, passed) : (stayed, passed + (weight * weight));
        }

        return stays;
    }

    private static void AddGaps(MendOptions options, LineSeries lines, RawSeries raw, EnergyMixture mixture)
    {
        for (var slot = 0; slot < raw.Grid.Count; slot++)
        {
            if (raw.Grid.Rows[slot] >= 0) continue;
            var (energy, first) = (0.0, slot);
            for (; slot < raw.Grid.Count && raw.Grid.Rows[slot] < 0; slot++)
            {
                foreach (var element in raw.Elements) energy += double.IsNaN(lines.Watts[element][slot]) ? 0 : lines.Watts[element][slot] * raw.Grid.Hours;
            }

            var chance = (slot - first) * raw.Grid.Hours <= LongGapHours ? options.OutageInGap : options.OutageInGap / 5;
            if (chance > 0) mixture.AddWays([(chance, -energy)]);
        }
    }

    // What the guard leaves open; where it is in doubt, that the hook-up stayed as it was in the piece beside it, or as it should be where there is none, as well.
    private static IEnumerable<HookupChance> Chances(ImmutableArray<HookupPiece> pieces, int index)
    {
        var piece = pieces[index];
        var beside = index > 0 ? pieces[index - 1].Hookup : pieces.Length > 1 ? pieces[1].Hookup : Hookup.Expected(piece.Hookup.Leads.Keys, piece.Hookup.Clamps.Keys);
        HookupChance[] stayed = beside.Equals(piece.Hookup) ? [] : [new HookupChance(beside, 1 - piece.Confidence)];
        if (piece.Alternatives.IsEmpty) return piece.Confidence < 0.97 ? stayed : [];
        var others = piece.Alternatives.Where(chance => chance.Probability > 0.01).Take(2);
        // Of what the total told, all that explain it are there.
        return piece.Confidence >= GuardSpan.SureFrom || piece.Factors is not null || stayed.Length == 0 ? others
            : others.Where(chance => !chance.Hookup.Equals(beside)).Concat(stayed).Select(chance => chance with { Probability = 0.5 * chance.Probability });
    }

    private static void AddAlternatives(
        GuardReport guard, MendOptions options, RawSeries raw, ChannelFlags flags, double total, EnergyMixture mixture, CancellationToken cancellation)
    {
        var pieces = guard.Timeline.Pieces;
        var asked = 0;
        // Those that stand alike are right or wrong together. The longest first: most energy hangs on them.
        var alike = Enumerable.Range(0, pieces.Length).GroupBy(index => pieces[index].Hookup).Select(group => group.OrderByDescending(index => pieces[index].To - pieces[index].From).ToList());
        foreach (var group in alike.OrderByDescending(group => group.Sum(index => (pieces[index].To - pieces[index].From).TotalHours)))
        {
            var ways = new List<(double, double)>();
            HookupChance[][] chances = [.. group.Select(index => Chances(pieces, index).ToArray())];
            var first = Array.FindIndex(chances, entry => entry.Length > 0);
            for (var way = 0; first >= 0 && way < chances[first].Length; way++)
            {
                if (asked++ >= MostAlternatives) break;
                var changed = pieces;
                for (var member = 0; member < group.Count; member++)
                {
                    var index = group[member];
                    if (way < chances[member].Length) changed = changed.SetItem(index, pieces[index] with { Hookup = chances[member][way].Hookup, Alternatives = [], Factors = chances[member][way].Factors });
                }

                var lines = new LineMapper(raw, options.Service, flags, new HookupTimeline(changed), options.Nominal).Map(cancellation);
                new HoleFiller(lines, raw).Fill(false, cancellation);
                ways.Add((chances[first][way].Probability, Total(lines, raw) - total));
            }

            if (ways.Count > 0) mixture.AddWays(ways);
        }
    }
}
