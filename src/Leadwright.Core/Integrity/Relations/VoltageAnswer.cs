using Leadwright.Core.Integrity.Chains;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>How the voltage of a phase answers to the currents, from row to row, against the other phases.</summary>
/// <remarks>
/// The supply moves all phases alike; what remains of a phase's voltage less the mean of the others falls with its own current and rises with
/// theirs: the impedance of the source, seen in logged values. Least squares of the changes of that difference on the changes of every
/// phase's watts over volts and vars over volts (amperes alone where there are no powers), twice, the second time without the rows that
/// lie more than four spreads off. A current that changes while the voltage keeps still did not change.
/// </remarks>
internal sealed class VoltageAnswer
{
    private const int MostTeachers = 20000;
    private const double KnownToAFifth = 0.04;

    /// <summary>Shorter rows are half cycles: a recording of them holds a handful of steps, however many rows.</summary>
    private const double ShortestSeconds = 0.1;

    /// <summary>So many steps must have taught each number that an answer is made of (our choice): fewer are fitted by any, and say nothing of the next.</summary>
    private const int StepsOfEach = 2;
    private const double StepsOfNoise = 4;

    /// <summary>In longer rows loads come and go in all of them.</summary>
    internal const double LongestOfSteps = 10;
    private readonly double[] _changes;
    private readonly double[] _own;
    private readonly double[] _others;
    private readonly byte[] _hours;
    private readonly double[] _stillness = new double[24];

    private VoltageAnswer(int rows)
    {
        _hours = new byte[rows];
        Array.Fill(_stillness, 1);
        _changes = new double[rows];
        _own = new double[rows];
        _others = new double[rows];
        Array.Fill(_changes, double.NaN);
    }

    /// <summary>Number of rows.</summary>
    public int Count => _own.Length;

    /// <summary>True when the answer could be learned.</summary>
    public bool IsKnown { get; private set; }

    /// <summary>Change of the unit voltage for each ampere of the clamp's own in phase with its voltage; below zero for a sound hook-up.</summary>
    public double PerAmpere { get; private set; }

    /// <summary>What remains unexplained from row to row.</summary>
    public double Spread { get; private set; } = 1;

    /// <summary>The same at the hour of a row: by night a voltage keeps stiller than at noon.</summary>
    public double SpreadAt(int row) => Spread * _stillness[_hours[row]];

    /// <summary>The same at the stillest hour: what is left of the inputs themselves.</summary>
    public double LeastSpread => Spread * _stillness.Min();

    /// <summary>True when it stands out from its own error, whatever goes along with what: three lines that one motor loads tell little of each.</summary>
    public bool IsSharp { get; private set; }

    /// <summary>True when the currents explain a good part of the large changes.</summary>
    public bool IsTelling => IsKnown && Tail.All > 1.3 * Tail.Left;

    /// <summary>The spread of all changes.</summary>
    public double UnknownSpread { get; private set; } = 1;

    /// <summary>The change that one row in fifty goes beyond, before and after what the currents explain.</summary>
    public (double All, double Left) Tail { get; private set; } = (double.NaN, double.NaN);

    /// <summary>What an ampere in phase and one across in each clamp does, by the clamp's number; empty where not learned from watts and vars of all.</summary>
    public (double InPhase, double Across)[] Weights { get; private set; } = [];

    /// <summary>Change of the phase's voltage against the others into a row; NaN where unknown.</summary>
    public double Change(int row) => _changes[row];

    /// <summary>What the clamp's own current does to it in a row (not a change).</summary>
    public double Own(int row) => _own[row];

    /// <summary>What the other currents do to its change into a row.</summary>
    public double Others(int row) => _others[row] - _others[row - 1];

    /// <summary>By how much all currents together hold the phase's voltage apart from the others in a row.</summary>
    public double Standing(int row) => _own[row] + _others[row];

    /// <summary>Log-likelihood of the change into a row when the own part changed by so much.</summary>
    public double Say(int row, double ownChange)
    {
        var change = _changes[row];
        if (!IsKnown || double.IsNaN(change)) return 0;
        var expected = ownChange + Others(row);
        if (double.IsNaN(expected)) return 0;
        return Density(change - expected, Square(SpreadAt(row)), (ownChange * ownChange) + (Others(row) * Others(row)));
    }

    /// <summary>The same for the change from one row to another, a few rows later.</summary>
    public double SayAcross(int from, int to, double ownChange)
    {
        if (!IsKnown) return 0;
        double change = 0;
        for (var row = from + 1; row <= to; row++) change += _changes[row];
        var others = _others[to] - _others[from];
        if (double.IsNaN(change) || double.IsNaN(others)) return 0;
        return Density(change - ownChange - others, (to - from) * Square(SpreadAt(to)), (ownChange * ownChange) + (others * others));
    }

    /// <summary>What the supply does by itself has heavy tails; the answer to a large step is known to a fifth, and that not heavily: a step of thirty
    /// spreads which is not answered at all is no step, whatever the supply may do.</summary>
    private double Density(double off, double square, double step)
    {
        var known = square + (KnownToAFifth * step);
        var top = -0.5 * Math.Log(known / (Spread * Spread));
        var tail = (-2.5 * Math.Log(1 + (off * off / (4 * square)))) - (0.5 * Math.Log(square / (Spread * Spread)));
        // The two put together: a bell as wide as both, and beyond it the supply's own tail.
        return Math.Max(top - (0.5 * off * off / known), Math.Min(top, tail));
    }

    /// <summary>The same when the own current is not known.</summary>
    public double SayUnknown(int row)
    {
        var change = _changes[row];
        if (!IsKnown || double.IsNaN(change)) return 0;
        var spread = Math.Max(SpreadAt(row), UnknownSpread);
        var scaled = change / spread;
        return (-2.5 * Math.Log(1 + (scaled * scaled / 4))) - Math.Log(spread / Spread);
    }

    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="clamp">The clamp.</param>
    /// <param name="isLeftOut">Rows that may be at another ratio and must not teach; null for none.</param>
    public static VoltageAnswer Learn(GuardFrame frame, VoltageHistory voltages, int clamp, bool[]? isLeftOut = null)
    {
        var answer = new VoltageAnswer(frame.Count);
        if (clamp > 2 || frame.Amperes[clamp] is null || frame.Volts[clamp] is null) return answer;
        var regressors = Regressors(frame, clamp, out var ownCount);
        var allChanges = new double[frame.Count];
        // A dip of the supply is no answer to a current, and the currents that fall with it are no loads that went.
        var dips = SupplyDips.Rows(frame);
        for (var row = 1; row < frame.Count; row++)
        {
            var isSound = voltages.At(row).Kind == VoltageStateKind.Sound && voltages.At(row - 1).Kind == VoltageStateKind.Sound;
            var isNext = frame.Starts[row] - frame.Starts[row - 1] < 1.5 * frame.Log.IntervalTicks;
            var isDip = dips.Length > 0 && (dips[row] || dips[row - 1]);
            answer._changes[row] = isSound && isNext && !isDip ? Relative(frame, clamp, row) - Relative(frame, clamp, row - 1) : double.NaN;
        }

        answer._changes.CopyTo(allChanges, 0);
        var teaches = WithSteps(frame, regressors);
        var step = teaches is null ? Math.Max(1, frame.Count / MostTeachers) : 1;
        double[]? weights = null;
        var middles = frame.Amperes.Take(3)
            .Select((column, index) => column is null ? double.NaN : Robust.Median(Array.FindAll(column, value => value >= voltages.Floors[index]))).ToArray();
        // Rows at another ratio would teach ten times too loudly.
        bool IsUsual(int row)
        {
            if (isLeftOut is not null && isLeftOut[row]) return false;
            for (var index = 0; index < 3; index++)
            {
                // A clamp that never shows anything is no reason.
                if (frame.Amperes[index] is { } column && !double.IsNaN(middles[index]) && !(column[row] < 4 * middles[index])) return false;
            }

            return true;
        }

        double limit = double.PositiveInfinity, error = double.PositiveInfinity;
        for (var pass = 0; pass < 3; pass++)
        {
            var sums = new NormalEquations(regressors.Count);
            var changes = new double[regressors.Count];
            for (var row = 1; row < frame.Count; row += step)
            {
                if (double.IsNaN(answer._changes[row])) continue;
                if (!IsUsual(row) || !IsUsual(row - 1)) continue;
                if (teaches?[row] == false || (weights is not null && Math.Abs(Rest(answer, regressors, weights, row)) > Limit(answer, regressors, weights, row, limit, teaches))) continue;
                for (var index = 0; index < changes.Length; index++) changes[index] = regressors[index][row] - regressors[index][row - 1];
                sums.Add(changes, answer._changes[row]);
            }

            weights = sums.Solve();
            if (weights is null) return answer;
            if (pass == 2) error = sums.ErrorOfFirst();
            var rests = new double[frame.Count];
            for (var row = 0; row < frame.Count; row++) rests[row] = row == 0 ? double.NaN : Rest(answer, regressors, weights, row);
            answer.Spread = Robust.Deviation(rests);
            if (pass == 2) answer.Tail = (Robust.Quantile(Array.ConvertAll(allChanges, Math.Abs), 0.98), Robust.Quantile(Array.ConvertAll(rests, Math.Abs), 0.98));
            limit = 4 * answer.Spread;
            if (pass == 2) answer.LearnHours(frame, rests);
        }

        if (double.IsNaN(answer.Spread)) return answer;
        // Less than what rounding the volts makes no change is known to.
        answer.Spread = Math.Max(answer.Spread, Math.Max(1.5e-4, 0.3 * Robust.Step(frame.Volts[clamp]!)));
        answer.UnknownSpread = Math.Max(answer.Spread, Robust.Deviation(allChanges));
        answer.PerAmpere = weights![0];
        answer.IsKnown = answer.PerAmpere < 0;
        answer.IsSharp = answer.PerAmpere < -6 * error * answer.Spread && (frame.Log.IntervalSeconds >= ShortestSeconds || answer.Steps(teaches, regressors, weights!, limit) >= StepsOfEach * regressors.Count);
        answer.Weights = ByClamp(frame, clamp, weights!);
        for (var row = 0; row < frame.Count; row++)
        {
            for (var index = 0; index < regressors.Count; index++)
            {
                if (index < ownCount) answer._own[row] += weights[index] * regressors[index][row];
                else answer._others[row] += weights[index] * regressors[index][row];
            }
        }

        if (answer.IsKnown && answer.LargeStepsAreIgnored(IsUsual)) (answer.IsKnown, answer.IsSharp) = (false, false);
        return answer;
    }

    /// <summary>True where the voltage does not answer to the largest steps of its own current: noise that currents made of powers and voltages share with these
    /// passes for an answer among small ones.</summary>
    private bool LargeStepsAreIgnored(Func<int, bool> isUsual)
    {
        var answered = new List<double>();
        for (var row = 1; row < _own.Length; row++)
        {
            var step = _own[row] - _own[row - 1];
            if (!(Math.Abs(step) > 6 * Spread) || double.IsNaN(_changes[row]) || double.IsNaN(Others(row)) || !isUsual(row) || !isUsual(row - 1)) continue;
            answered.Add((_changes[row] - Others(row)) / step);
        }

        return answered.Count >= 6 && Robust.Median([.. answered]) < 0.25;
    }

    /// <summary>Rows in which a current steps, where rows are short: null for all rows. In the others currents made of powers over voltages share the noise of these, and there are a thousand such rows to a step.</summary>
    internal static bool[]? WithSteps(GuardFrame frame, List<double[]> regressors)
    {
        if (frame.Log.IntervalSeconds > LongestOfSteps) return null;
        var teaches = new bool[frame.Count];
        foreach (var column in regressors)
        {
            var changes = Robust.Changes(column);
            var least = StepsOfNoise * Robust.Deviation(changes);
            for (var row = 1; row < teaches.Length; row++) teaches[row] |= Math.Abs(column[row] - column[row - 1]) > least;
        }

        return teaches;
    }

    /// <summary>Below this the changes of a course are its noise, which no voltage answers to.</summary>
    internal static double LeastStep(Func<int, double> course, int count)
    {
        var steps = new double[count];
        for (var row = 1; row < count; row++) steps[row] = course(row) - course(row - 1);
        return StepsOfNoise * Robust.Deviation(steps);
    }

    /// <summary>How many steps taught the answer: rows one after the other are one.</summary>
    private int Steps(bool[]? teaches, List<double[]> regressors, double[] weights, double limit)
    {
        var (steps, last) = (0, -2);
        for (var row = 1; row < _changes.Length; row++)
        {
            if (teaches?[row] == false || !(Math.Abs(Rest(this, regressors, weights, row)) <= Limit(this, regressors, weights, row, limit, teaches))) continue;
            if (row > last + 1) steps++;
            last = row;
        }

        return steps;
    }

    /// <summary>How far a row may lie off and teach all the same: the answer to a large step is known to a fifth, and where steps alone teach they must not be left out for it.</summary>
    private static double Limit(VoltageAnswer answer, List<double[]> regressors, double[] weights, int row, double limit, bool[]? teaches)
    {
        if (teaches is null) return limit;
        var step = answer._changes[row] - Rest(answer, regressors, weights, row);
        return Math.Sqrt((limit * limit) + (StepsOfNoise * StepsOfNoise * KnownToAFifth * step * step));
    }

    private void LearnHours(GuardFrame frame, double[] rests)
    {
        var hours = new List<double>[24];
        for (var hour = 0; hour < 24; hour++) hours[hour] = [];
        var step = Math.Max(1, rests.Length / MostTeachers);
        for (var row = 0; row < rests.Length; row++)
        {
            _hours[row] = (byte)frame.From(row).Hour;
            if (row % step == 0 && !double.IsNaN(rests[row])) hours[_hours[row]].Add(rests[row]);
        }

        for (var hour = 0; hour < 24; hour++)
        {
            // With the hours beside it: a day's rows of ten minutes are few.
            double[] near = [.. hours[(hour + 23) % 24], .. hours[hour], .. hours[(hour + 1) % 24]];
            if (near.Length >= 24 && Spread > 0) _stillness[hour] = Math.Clamp(Robust.Deviation(near) / Spread, 0.5, 8);
        }
    }

    private static double Square(double value) => value * value;

    private static (double InPhase, double Across)[] ByClamp(GuardFrame frame, int clamp, double[] weights)
    {
        int[] clamps = [.. Enumerable.Range(0, frame.Lines).Select(turn => (clamp + turn) % frame.Lines).Where(index => frame.Amperes[index] is not null)];
        if (weights.Length != 2 * clamps.Length || clamps.Any(index => frame.Vars[index] is null)) return [];
        var ordered = new (double, double)[3];
        for (var index = 0; index < clamps.Length; index++) ordered[clamps[index]] = (weights[2 * index], weights[(2 * index) + 1]);
        return ordered;
    }

    private static double Rest(VoltageAnswer answer, List<double[]> regressors, double[] weights, int row)
    {
        var rest = answer._changes[row];
        for (var index = 0; index < regressors.Count; index++) rest -= weights[index] * (regressors[index][row] - regressors[index][row - 1]);
        return rest;
    }

    /// <summary>Currents in phase and across, the clamp's own first.</summary>
    internal static List<double[]> Regressors(GuardFrame frame, int clamp, out int ownCount)
    {
        var regressors = new List<double[]>();
        ownCount = 0;
        for (var turn = 0; turn < frame.Lines; turn++)
        {
            var index = (clamp + turn) % frame.Lines;
            if (frame.Amperes[index] is not { } amperes) continue;
            if (frame.Watts[index] is not { } watts)
            {
                regressors.Add(amperes);
            }
            else
            {
                var vars = frame.Vars[index];
                var inPhase = new double[frame.Count];
                var across = new double[frame.Count];
                for (var row = 0; row < frame.Count; row++)
                {
                    // Where the voltage is not what it should be the amperes serve, times the factors.
                    if (frame.TryMeanCurrent(index, row, out inPhase[row], out across[row])) continue;
                    (inPhase[row], across[row]) = (0, 0);
                    var apparent = vars is not null
                        ? Math.Sqrt((watts[row] * watts[row]) + (vars[row] * vars[row]))
                        : frame.UnitVolts * amperes[row] * (frame.IsPairs && !frame.IsTwoElement ? 0.577 : 1);
                    if (!(apparent > 0)) continue;
                    inPhase[row] = amperes[row] * Math.Clamp(watts[row] / apparent, -1, 1);
                    across[row] = vars is not null
                        ? amperes[row] * vars[row] / apparent
                        : Math.Sqrt(Math.Max(0, (amperes[row] * amperes[row]) - (inPhase[row] * inPhase[row])));
                }

                regressors.Add(inPhase);
                regressors.Add(across);
            }

            if (turn == 0) ownCount = regressors.Count;
        }

        return regressors;
    }

    /// <summary>The voltage of a clamp's channel less the mean of the others, which the supply moves alike.</summary>
    internal static double Relative(GuardFrame frame, int clamp, int row)
    {
        double sum = 0;
        var count = 0;
        for (var other = 0; other < frame.Lines; other++)
        {
            if (other == clamp || frame.Volts[other] is not { } column) continue;
            sum += column[row];
            count++;
        }

        return count == 0 ? frame.Volts[clamp]![row] : frame.Volts[clamp]![row] - (sum / count);
    }
}
