using Leadwright.Core.Circuits;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>The angles at which the loads of the lines usually stand, as the total shows them under hook-ups that are taken to be known row by row.</summary>
/// <remarks>Least squares of what is left in each row, heavy tails weighing less (weights of Student's law), with an ordinary site beforehand.</remarks>
internal sealed class TotalAngles
{
    private const int MostRows = 3000;
    private const int Rounds = 10;
    private const int Unknowns = 4;
    private const double MostStep = 0.25;
    private const double Usual = 20 * Math.PI / 180;
    private const double OfSites = 13 * Math.PI / 180;
    private const double Likely = 0.985;
    private const double OfSize = 0.012;
    private const double Tails = 3;
    private const double LeastRight = 0.1;
    private const double Known = 0.015;
    private const double KnownByWrong = 0.03;
    private readonly double[] _radians;
    private readonly double _spread;

    /// <param name="isThreeWire">True where loads lie between lines: their angles differ more from line to line.</param>
    public TotalAngles(bool isThreeWire)
    {
        _spread = (isThreeWire ? 20 : 10) * Math.PI / 180;
        _radians = [Usual, Usual, Usual];
    }

    /// <summary>How much of the volt-amperes is there as power: rms and mean of loads that are switched, and distortion, take a little.</summary>
    public double Size { get; private set; } = Likely;

    /// <summary>Log-likelihood of the angles beforehand.</summary>
    public double LogPrior { get; private set; }

    /// <summary>Angle of the load of each line, degrees, positive when it lags.</summary>
    public ReadOnlySpan<double> Radians => _radians;

    /// <summary>What a row's total should be.</summary>
    public Phasor Expect(double[] shares, Phasor[] turns, TotalHookup hookup, int[] clamps)
    {
        var sum = Phasor.Zero;
        for (var index = 0; index < clamps.Length; index++) sum += shares[index] * (turns[index] * Phasor.FromRadians(Size, _radians[hookup.Clamps[clamps[index]].On]));
        return sum;
    }

    /// <summary>Learns.</summary>
    /// <param name="total">The total.</param>
    /// <param name="hookups">The hook-ups.</param>
    /// <param name="turns">What each turns.</param>
    /// <param name="states">The hook-up of each row; 255 where it is not known.</param>
    /// <param name="spread">How far a row usually strays.</param>
    /// <param name="goesOn">What share of that goes on in the next row: such rows are fewer witnesses.</param>
    public void Learn(TotalByLine total, List<TotalHookup> hookups, Phasor[][] turns, byte[] states, double spread, double goesOn)
    {
        var rows = new List<int>();
        var stride = Math.Max(1, states.Length / MostRows);
        for (var row = 0; row < states.Length; row += stride) if (total.Teaches[row] && states[row] < 255) rows.Add(row);
        var witness = Math.Min(1, stride * (1 - goesOn) / (1 + goesOn));
        for (var round = 0; round < Rounds; round++) Move(total, hookups, turns, states, spread, rows, witness);
        LogPrior = -0.5 * ((Size - Likely) / OfSize * ((Size - Likely) / OfSize));
        var (site, own) = (SiteOf(total, out var off), 0.0);
        foreach (var clamp in total.Clamps) own += (_radians[clamp] - site) * (_radians[clamp] - site) / (_spread * _spread);
        LogPrior -= 0.5 * (own + off);
    }

    /// <summary>The angle of the site that the lines' own stand about: one site's loads are of one kind.</summary>
    private double SiteOf(TotalByLine total, out double off)
    {
        double sum = Usual / (OfSites * OfSites), weight = 1 / (OfSites * OfSites);
        foreach (var clamp in total.Clamps) (sum, weight) = (sum + (_radians[clamp] / (_spread * _spread)), weight + (1 / (_spread * _spread)));
        var site = sum / weight;
        off = (site - Usual) / OfSites * ((site - Usual) / OfSites);
        return site;
    }

    /// <summary>What the loads draw when all is right, and how well the energy of the recording is known by it.</summary>
    /// <remarks>The normal equations of the angles and the size with what is known beforehand, inverted; rows that go on as they were count for fewer, n (1 − ρ)/(1 + ρ). Beside that the angles' mean over the volt-amperes is known to 1.5 % at best, to 3 % where hardly a row was right (our choice, on weeks of one maker).</remarks>
    public LineFactors Factors(TotalByLine total, List<TotalHookup> hookups, Phasor[][] turns, byte[] states, double spread, TotalSpreads spreads)
    {
        var matrix = new double[Unknowns, Unknowns];
        var energy = new double[Unknowns];
        var watts = 0.0;
        Span<Phasor> by = stackalloc Phasor[Unknowns];
        var stride = Math.Max(1, states.Length / MostRows);
        for (var row = 0; row < states.Length; row += stride)
        {
            if (!total.Teaches[row] || total.Shares[row] is not { } shares || states[row] == byte.MaxValue) continue;
            Slopes(shares, turns[states[row]], hookups[states[row]], total.Clamps, by);
            var own = spreads.GoesOn(row);
            var weight = stride * (1 - own) / (1 + own) / (spread * spread);
            for (var one = 0; one < Unknowns; one++)
            {
                for (var other = 0; other < Unknowns; other++) matrix[one, other] += weight * ((by[one].Real * by[other].Real) + (total.HasVars ? by[one].Imaginary * by[other].Imaginary : 0));
            }

            // The energy, were all right: each current with its own line's voltage.
            for (var index = 0; index < shares.Length; index++)
            {
                var on = hookups[states[row]].Clamps[total.Clamps[index]].On;
                var turned = turns[0][Math.Max(0, Array.IndexOf(total.Clamps, on))] * Phasor.FromRadians(Size, _radians[on]);
                energy[on] -= total.Sizes[row] * shares[index] * turned.Imaginary;
                energy[3] += total.Sizes[row] * shares[index] * turned.Real / Size;
                watts += total.Sizes[row] * shares[index] * turned.Real;
            }
        }

        for (var line = 0; line < 3; line++) matrix[line, line] += 1 / (_spread * _spread);
        matrix[3, 3] += 1 / (OfSize * OfSize);
        // Where nothing was right the angles rest on what a wrong hook-up shows of them.
        var floor = states.Count(state => state == 0) > LeastRight * states.Length ? Known : KnownByWrong;
        var error = Solve(matrix, [.. energy]);
        var variance = Enumerable.Range(0, Unknowns).Sum(index => error[index] * energy[index]) / Math.Max(1, watts * watts);
        var factors = new double[3];
        Array.Fill(factors, double.NaN);
        for (var index = 0; index < total.Clamps.Length; index++) factors[total.Clamps[index]] = (turns[0][index] * Phasor.FromRadians(Size, _radians[total.Clamps[index]])).Real;
        return new LineFactors([.. factors], Math.Min(0.3, Math.Sqrt(variance + (floor * floor))));
    }

    /// <summary>By how much a row's total changes with each angle, and with the size.</summary>
    private void Slopes(double[] shares, Phasor[] turns, TotalHookup hookup, int[] clamps, Span<Phasor> by)
    {
        by.Clear();
        for (var index = 0; index < shares.Length; index++)
        {
            var on = hookup.Clamps[clamps[index]].On;
            by[on] += shares[index] * (turns[index] * Phasor.FromRadians(Size, _radians[on] + (Math.PI / 2)));
            by[3] += shares[index] * (turns[index] * Phasor.FromRadians(1, _radians[on]));
        }
    }

    /// <summary>Moves the angles and the size to where the squares are least (Gauss and Newton).</summary>
    private void Move(TotalByLine total, List<TotalHookup> hookups, Phasor[][] turns, byte[] states, double spread, List<int> rows, double witness)
    {
        var matrix = new double[Unknowns, Unknowns];
        var vector = new double[Unknowns];
        Span<Phasor> by = stackalloc Phasor[Unknowns];
        foreach (var row in rows)
        {
            var (hookup, turn, shares) = (hookups[states[row]], turns[states[row]], total.Shares[row]!);
            var left = total.Values[row] - Expect(shares, turn, hookup, total.Clamps);
            if (!total.HasVars) left = new Phasor(left.Real, 0);
            Slopes(shares, turn, hookup, total.Clamps, by);
            var weight = witness * (Tails + 1) / (Tails + (left.SquaredMagnitude / (spread * spread))) / (spread * spread);
            for (var one = 0; one < Unknowns; one++)
            {
                vector[one] += weight * ((left.Real * by[one].Real) + (left.Imaginary * by[one].Imaginary));
                for (var other = 0; other < Unknowns; other++) matrix[one, other] += weight * ((by[one].Real * by[other].Real) + (total.HasVars ? by[one].Imaginary * by[other].Imaginary : 0));
            }
        }

        var site = SiteOf(total, out _);
        for (var line = 0; line < 3; line++)
        {
            matrix[line, line] += 1 / (_spread * _spread);
            vector[line] += (site - _radians[line]) / (_spread * _spread);
        }

        matrix[3, 3] += 1 / (OfSize * OfSize);
        vector[3] += (Likely - Size) / (OfSize * OfSize);
        var steps = Solve(matrix, vector);
        Size = Math.Clamp(Size + steps[3], 0.92, 1);
        // Of watts alone a load that leads and one that lags look the same: lagging is taken.
        for (var line = 0; line < 3; line++)
            _radians[line] = Math.Clamp(_radians[line] + Math.Clamp(steps[line], -MostStep, MostStep), total.HasVars ? -Math.PI / 2 : 0.02, Math.PI / 2);
    }

    /// <summary>The solution of a positive definite system, by elimination.</summary>
    private static double[] Solve(double[,] matrix, double[] vector)
    {
        var count = vector.Length;
        for (var pivot = 0; pivot < count; pivot++)
        {
            for (var row = pivot + 1; row < count; row++)
            {
                var share = matrix[row, pivot] / matrix[pivot, pivot];
                for (var column = pivot; column < count; column++) matrix[row, column] -= share * matrix[pivot, column];
                vector[row] -= share * vector[pivot];
            }
        }

        for (var row = count - 1; row >= 0; row--)
        {
            for (var column = row + 1; column < count; column++) vector[row] -= matrix[row, column] * vector[column];
            vector[row] /= matrix[row, row];
        }

        return vector;
    }
}
