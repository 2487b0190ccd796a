using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Planning;

/// <summary>Works a plan out: expected readings, clamps, interval, length, memory, battery.</summary>
/// <remarks>Formulas and the standing of every figure: docs/methods/planning.md.</remarks>
public static class PlanMaker
{
    /// <summary>Share of the range below which a clamp says little; common practice, no source.</summary>
    public const double LeastShareOfRange = 0.1;

    /// <summary>How far voltages may be from nominal, as a fraction: EN 50160, ten-minute values, 95 % of a week (from memory).</summary>
    public const double VoltageTolerance = 0.1;

    /// <summary>How far the lines' currents may differ from their mean on a sound site, as a fraction; common practice, no source.</summary>
    public const double PhaseSpread = 0.4;

    /// <summary>Room left above the peak when a range is chosen; common practice, no source.</summary>
    public const double RangeReserve = 1.25;

    /// <summary>Memory kept for events and settings, as a factor; common practice, no source.</summary>
    public const double MemoryReserve = 1.2;

    private const double SecondsPerDay = 86_400;

    // The ranges that clamps usually have: common practice, no source.
    private static readonly double[] s_ranges = [5, 10, 20, 50, 100, 200, 500, 1000, 2000, 3000, 5000, 6000, 10_000];

    /// <summary>Works a plan out.</summary>
    /// <param name="plan">What is known and wanted.</param>
    /// <exception cref="ArgumentException">A figure is out of its range, or nothing is to be learnt.</exception>
    public static PlanSheet Of(SurveyPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        Require(plan);
        var service = Service.Of(plan.Service);
        var range = DisplacementRange.Of(plan.Load);
        var lineAmperes = LineAmperes(plan, range);
        var peak = lineAmperes * plan.PeakFactor * (1 + PhaseSpread);
        var needs = plan.Purposes.Distinct().Order().Select(NeedOf).ToImmutableArray();
        var interval = plan.IntervalSeconds ?? needs.Min(need => need.IntervalSeconds);
        var days = plan.Days ?? needs.Max(need => need.Days);
        var sheet = new PlanSheet
        {
            Plan = plan,
            Hookup = Hookup.Expected(service.Leads, service.Clamps),
            Readings = ExpectedReadings.Of(plan, range, lineAmperes),
            Powers = ExpectedReadings.PowersOf(plan, range, lineAmperes),
            LineAmperes = lineAmperes,
            PeakAmperes = peak,
            SuitableRangeAmperes = peak is { } most ? s_ranges.FirstOrDefault(size => size >= RangeReserve * most, s_ranges[^1]) : null,
            Clamp = Fit(plan.Clamp, lineAmperes, peak, range),
            Needs = needs,
            IntervalSeconds = interval,
            Days = days,
            Memory = MemoryOf(plan.Recorder, interval, days),
            Warnings = [],
        };
        return sheet with { Warnings = [.. WarningsOf(sheet)] };
    }

    /// <summary>What a purpose needs.</summary>
    /// <param name="purpose">The purpose.</param>
    /// <remarks>Sources: docs/methods/planning.md.</remarks>
    public static PurposeNeed NeedOf(SurveyPurpose purpose) => purpose switch
    {
        SurveyPurpose.Load => new(purpose, 60, 7),
        SurveyPurpose.SpareCapacity => new(purpose, 60, 30),
        SurveyPurpose.Voltage => new(purpose, 600, 7),
        SurveyPurpose.Harmonics => new(purpose, 600, 7),
        SurveyPurpose.FaultFinding => new(purpose, 60, 7),
        _ => throw new ArgumentOutOfRangeException(nameof(purpose), purpose, "Not a purpose."),
    };

    /// <summary>The word of a purpose in files and commands.</summary>
    public static string WordOf(SurveyPurpose purpose) => purpose switch
    {
        SurveyPurpose.SpareCapacity => "spare-capacity",
        SurveyPurpose.FaultFinding => "fault-finding",
        _ => purpose.ToString().ToLowerInvariant(),
    };

    /// <summary>The purpose with a word, in any case; null when there is none.</summary>
    public static SurveyPurpose? PurposeOf(string? word)
    {
        foreach (var purpose in Enum.GetValues<SurveyPurpose>())
        {
            if (string.Equals(WordOf(purpose), word?.Trim(), StringComparison.OrdinalIgnoreCase)) return purpose;
        }

        return null;
    }

    /// <summary>Lines' current from power: P over the number of lines, the line's share of voltage and the power factor.</summary>
    private static double? LineAmperes(SurveyPlan plan, DisplacementRange range)
    {
        if (plan.ExpectedAmperes is { } amperes) return amperes;
        if (plan.ExpectedWatts is not { } watts) return null;
        var factor = Math.Cos(range.TypicalDegrees * Math.PI / 180);
        var volts = plan.Nominal.LineToNeutralVolts;
        return plan.Service switch
        {
            ServiceKind.Single => watts / (volts * factor),
            ServiceKind.Split or ServiceKind.Network => watts / (2 * volts * factor),
            _ => watts / (Math.Sqrt(3) * plan.Nominal.LineToLineVolts * factor),
        };
    }

    private static ClampFit? Fit(ClampFigures? clamp, double? amperes, double? peak, DisplacementRange range)
    {
        if (clamp is null || amperes is not { } load || peak is not { } most) return null;
        var share = load / clamp.RangeAmperes;
        var error = clamp.ReadingErrorPercent + (clamp.RangeErrorPercent / share);

        // The cosine of a displacement that is wrong by δ: δ tan φ, first order; the larger end of the usual displacements counts.
        var tangent = Math.Max(Math.Abs(Math.Tan(range.FromDegrees * Math.PI / 180)), Math.Abs(Math.Tan(range.ToDegrees * Math.PI / 180)));
        var angle = 100 * clamp.AngleErrorDegrees * Math.PI / 180 * tangent;
        return new ClampFit(share, error, error + angle, most / clamp.RangeAmperes);
    }

    private static MemoryNeed? MemoryOf(RecorderFigures? recorder, double interval, double days)
    {
        if (recorder is null) return null;
        var intervals = days * SecondsPerDay / interval;
        var perInterval = recorder.Quantities * recorder.Statistics * recorder.BytesPerValue;
        var bytes = intervals * perInterval;
        return new MemoryNeed(
            intervals, bytes, MemoryReserve * bytes,
            recorder.MemoryBytes is { } memory ? memory / (MemoryReserve * perInterval * SecondsPerDay / interval) : null);
    }

    private static IEnumerable<PlanWarning> WarningsOf(PlanSheet sheet)
    {
        if (sheet.Clamp is { } clamp && clamp.ShareOfRange < LeastShareOfRange) yield return PlanWarning.ClampRangeTooLarge;
        if (sheet.Clamp is { } fit && fit.PeakShareOfRange > 1) yield return PlanWarning.ClampRangeTooSmall;
        if (sheet.Memory?.DaysThatFit < sheet.Days) yield return PlanWarning.MemoryTooSmall;
        if (sheet.Plan.Recorder is { BatteryHours: { } hours } recorder && hours < recorder.OutageHours) yield return PlanWarning.BatteryTooShort;
        if (sheet.Needs.Any(need => sheet.IntervalSeconds > need.IntervalSeconds)) yield return PlanWarning.IntervalTooLong;
        if (sheet.Needs.Any(need => sheet.Days < need.Days)) yield return PlanWarning.DurationTooShort;
    }

    private static void Require(SurveyPlan plan)
    {
        if (plan.Purposes.IsDefaultOrEmpty) throw new ArgumentException("Say what is to be learnt: at least one purpose.", nameof(plan));
        Above("The expected power", plan.ExpectedWatts, 0, "W");
        Above("The expected current", plan.ExpectedAmperes, 0, "A");
        Above("The frequency", plan.FrequencyHertz, 0, "Hz");
        Above("The interval", plan.IntervalSeconds, 0, "s");
        Above("The length", plan.Days, 0, "days");
        if (!(plan.PeakFactor >= 1 && double.IsFinite(plan.PeakFactor)))
            throw new ArgumentException($"The peak is at least once the expected load; found {plan.PeakFactor}.", nameof(plan));
        if (plan.Clamp is { } clamp)
        {
            Above("The clamps' range", clamp.RangeAmperes, 0, "A");
            if (!(clamp.ReadingErrorPercent >= 0 && clamp.RangeErrorPercent >= 0 && clamp.AngleErrorDegrees >= 0))
                throw new ArgumentException("The errors of a clamp are 0 or more.", nameof(plan));
        }

        if (plan.Recorder is not { } recorder) return;
        Above("The memory", recorder.MemoryBytes, 0, "bytes");
        Above("The number of stored quantities", recorder.Quantities, 0, "");
        Above("The number of values of each", recorder.Statistics, 0, "");
        Above("The size of a value", recorder.BytesPerValue, 0, "bytes");
    }

    private static void Above(string what, double? value, double least, string unit)
    {
        if (value is { } number && !(number > least && double.IsFinite(number)))
            throw new ArgumentException($"{what} must be above {least}; found {number} {unit}".TrimEnd() + ".");
    }
}
