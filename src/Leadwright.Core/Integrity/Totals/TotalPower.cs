using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>The total power of each row against what its voltages and currents come to when every clamp goes with its own line's voltage and all loads have one power factor.</summary>
/// <remarks>
/// A recorder's total is Σ U·I* over its elements, U the voltage of an element's leads. With every line's current behind its own voltage by φ, U·I* = |U| I e^{j(arg U − arg E + φ)}, E the voltage of the conductor that
/// the clamp is on: the total stands to Σ |U| I of the right hook-up as a complex factor κ that each hook-up has for itself, times e^{jφ}. Right: 1. One clamp of two turned: 1/√3 at ±90°. Two
/// exchanged: 0. Three wires on three clamps, one turned: 1/3. Derivation: docs/methods/guard.md.
/// </remarks>
internal sealed class TotalPower
{
    private const double LeastShare = 0.05;
    private const double OfLittle = 0.4;
    private readonly GuardFrame _frame;
    private readonly VoltageHistory _voltages;
    private readonly double[]? _vars;
    private readonly int[] _clamps;
    private readonly double _least;
    private readonly double _level;
    private readonly double[] _sizes;
    private readonly Dictionary<TotalHookup, Phasor[]> _perAmpere = new(ReferenceEqualityComparer.Instance);

    private TotalPower(GuardFrame frame, VoltageHistory voltages, int[] clamps)
    {
        (_frame, _voltages, _clamps) = (frame, voltages, clamps);
        (_vars, HasSign) = frame.TotalVars is { } vars ? (vars, true) : (VarsByFactor(frame), false);
        // What the channels usually read against nominal, and the volt-amperes of an ampere in each clamp.
        _level = Enumerable.Range(0, frame.Lines).Average(line => voltages.Base[line] / (frame.IsPairs ? 1 : frame.Ideal[line].Magnitude));
        _sizes = Array.ConvertAll(clamps, clamp => Element(clamp, s_right).Magnitude * Aligned);
        Values = new Phasor?[frame.Count];
        var sizes = new double[frame.Count];
        for (var row = 0; row < sizes.Length; row++) sizes[row] = VoltAmperes(row);
        _least = LeastShare * Robust.Quantile(sizes, 0.95);
        for (var row = 0; row < sizes.Length; row++)
        {
            if (sizes[row] > _least) Values[row] = At(row, sizes[row]);
        }
    }

    /// <summary>Watts and vars of each row over its volt-amperes; the vars NaN where none are known; null where the row does not tell.</summary>
    public Phasor?[] Values { get; }

    /// <summary>True when the vars have their sign; false when only their size is known, from a power factor.</summary>
    public bool HasSign { get; }

    /// <summary>True when the size of the vars is known at least.</summary>
    public bool HasVars => _vars is not null;

    /// <summary>The clamps whose currents were written.</summary>
    public ReadOnlySpan<int> Clamps => _clamps;

    /// <summary>True where a row carries enough for the size of its total to say something, if not its angle.</summary>
    /// <param name="row">The row.</param>
    public bool CarriesALittle(int row) => VoltAmperes(row) > OfLittle * _least;

    /// <summary>Watts and vars of any row over its volt-amperes, however few; null where the supply is not sound or one of them is missing.</summary>
    /// <param name="row">The row.</param>
    public Phasor? At(int row) => At(row, VoltAmperes(row)) is { } value && double.IsFinite(value.Imaginary) ? value : null;

    private Phasor? At(int row, double size)
    {
        if (!(size > 0) || _voltages.At(row).Kind != VoltageStateKind.Sound) return null;
        double watts = _frame.TotalWatts![row] / size, across = (_vars?[row] ?? double.NaN) / size;
        return double.IsFinite(watts) ? new Phasor(watts, across) : null;
    }

    /// <summary>The total power of a log that has no power by phase; null where it has, or where voltages or currents are missing, or on services for which the factor is not worked out.</summary>
    public static TotalPower? Of(GuardFrame frame, VoltageHistory voltages)
    {
        if (frame.TotalWatts is null || frame.HasWatts || frame.Service.Kind is ServiceKind.Single or ServiceKind.HighLeg) return null;
        if (Enumerable.Range(0, frame.Lines).Any(line => frame.Volts[line] is null)) return null;
        int[] clamps = frame.IsTwoElement ? [0, 2] : [.. Enumerable.Range(0, frame.Lines)];
        return Array.TrueForAll(clamps, clamp => frame.Amperes[clamp] is not null) ? new TotalPower(frame, voltages, clamps) : null;
    }

    /// <summary>The factor κ of a hook-up in a row, with the currents as they were read.</summary>
    public Phasor Factor(TotalHookup hookup, int row)
    {
        if (!_perAmpere.TryGetValue(hookup, out var perAmpere)) _perAmpere[hookup] = perAmpere = PerAmpere(hookup);
        Phasor sum = Phasor.Zero;
        double size = 0;
        for (var index = 0; index < _clamps.Length; index++)
        {
            var amperes = _frame.Amperes[_clamps[index]]![row];
            size += amperes * _sizes[index];
            sum += amperes * perAmpere[index];
        }

        return size > 0 ? sum / size : Phasor.Zero;
    }

    /// <summary>What a row says against a hook-up under which its currents could not show so large a total, zero or more.</summary>
    public double Against(TotalHookup hookup, int row)
    {
        if (Values[row] is not { } value) return 0;
        if (!_perAmpere.TryGetValue(hookup, out var perAmpere)) _perAmpere[hookup] = perAmpere = PerAmpere(hookup);
        var isWhole = HasSign && !double.IsNaN(value.Imaginary);
        double direction = isWhole ? value.AngleDegrees : 0, size = 0, most = 0;
        for (var index = 0; index < _clamps.Length; index++)
        {
            var amperes = _frame.Amperes[_clamps[index]]![row];
            size += amperes * _sizes[index];
            most += amperes * perAmpere[index].Magnitude * TotalBound.Most(perAmpere[index].AngleDegrees - direction);
        }

        return size > 0 ? TotalBound.Against(isWhole ? value.Magnitude : value.Real, most / size) : 0;
    }

    /// <summary>What an ampere in each clamp adds to the total of a hook-up, nominal line to neutral = 1.</summary>
    private Phasor[] PerAmpere(TotalHookup hookup) => Array.ConvertAll(_clamps, clamp =>
    {
        var (on, sign) = hookup.Clamps[clamp];
        var element = Element(clamp, hookup.Leads);
        return Phasor.FromDegrees(sign * element.Magnitude, element.AngleDegrees - Line(on).AngleDegrees);
    });

    private static readonly int[] s_right = [0, 1, 2, 3];

    /// <summary>The share of an element's volt-amperes that the right hook-up's add up to: a pair's voltage stands thirty degrees off its line's.</summary>
    private double Aligned => _frame.IsTwoElement ? Math.Sqrt(3) / 2 : 1;

    private double VoltAmperes(int row)
    {
        double volts = 0, sum = 0;
        for (var line = 0; line < _frame.Lines; line++) volts += _frame.Volts[line]![row] / _voltages.Base[line] / _frame.Lines;
        for (var index = 0; index < _clamps.Length; index++) sum += _frame.Amperes[_clamps[index]]![row] * _sizes[index];
        return volts * sum * ((_frame.Nominal?.LineToNeutralVolts ?? double.NaN) * _level);
    }

    /// <summary>The voltage of an element, nominal line to neutral = 1, with its leads where they are.</summary>
    private Phasor Element(int clamp, int[] leads)
    {
        var own = Line(leads[clamp]);
        if (_frame.IsTwoElement) return own - Line(leads[1]);
        if (!_frame.Service.IsThreeWire) return own - (leads[3] == 3 ? Phasor.Zero : Line(leads[3]));
        return own - ((Line(leads[0]) + Line(leads[1]) + Line(leads[2])) / 3);
    }

    private Phasor Line(int conductor) => _frame.Ideal[conductor];

    private static double[]? VarsByFactor(GuardFrame frame)
    {
        if (frame.TotalFactor is not { } factor) return null;
        var vars = new double[factor.Length];
        for (var row = 0; row < vars.Length; row++)
        {
            var size = Math.Abs(factor[row]);
            vars[row] = size is > 0.001 and <= 1 ? Math.Abs(frame.TotalWatts![row]) * Math.Sqrt(1 - (size * size)) / size : double.NaN;
        }

        return vars;
    }
}
