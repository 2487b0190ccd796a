using System.Collections.Immutable;
using System.Globalization;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>What a number in the readings can be: a number that is none, as a recorder's dashes become, counts as not shown.</summary>
internal static class ReadingNumbers
{
    /// <summary>Beyond anything that a recorder on a switchboard shows; squares of it are still numbers.</summary>
    private const double Largest = 1e12;

    /// <summary>The readings without what is no number.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An rms value is negative, or a number is beyond anything that can be read.</exception>
    public static PanelReadings Usable(PanelReadings readings)
    {
        if (AllUsable(readings)) return readings;
        return readings with
        {
            FrequencyHertz = Usable(readings.FrequencyHertz, "The frequency"),
            VoltageSumFraction = Usable(readings.VoltageSumFraction, "The sum of the voltages"),
            Channels = readings.Channels.ToImmutableSortedDictionary(channel => channel.Key, channel => Usable(channel.Value, channel.Key.ToString())),
            NeutralToGround = readings.NeutralToGround is { } ground ? Usable(ground, "VNG") : null,
            Phases = readings.Phases.ToImmutableSortedDictionary(phase => phase.Key, phase => new PhasePower(
                Usable(phase.Value.Watts, Of("The power", phase.Key)), Usable(phase.Value.Vars, Of("The reactive power", phase.Key)),
                Usable(phase.Value.VoltAmperes, Of("The apparent power", phase.Key)), Usable(phase.Value.PowerFactor, Of("The power factor", phase.Key)))),
            LineToLineVolts = readings.LineToLineVolts.Where(pair => Size(Usable(pair.Value, pair.Key.ToString()), pair.Key.ToString()) is not null)
                .ToImmutableSortedDictionary(),
        };
    }

    private static bool AllUsable(PanelReadings readings) =>
        IsUsable(readings.FrequencyHertz) && IsUsable(readings.VoltageSumFraction)
        && readings.Channels.Values.Append(readings.NeutralToGround ?? default).All(reading =>
            IsUsable(reading.Rms) && !(reading.Rms < 0) && IsUsable(reading.AngleDegrees) && IsUsable(reading.Spread))
        && readings.Phases.Values.All(power =>
            IsUsable(power.Watts) && IsUsable(power.Vars) && IsUsable(power.VoltAmperes) && IsUsable(power.PowerFactor))
        && readings.LineToLineVolts.Values.All(volts => IsUsable(volts) && volts >= 0);

    private static bool IsUsable(double? number) => number is not { } value || Math.Abs(value) <= Largest;

    private static ChannelReading Usable(ChannelReading reading, string what) => new(
        Size(Usable(reading.Rms, what), what), Usable(reading.AngleDegrees, "The angle of " + what), Usable(reading.Spread, "The spread of " + what));

    private static double? Usable(double? number, string what)
    {
        if (number is not { } value || !double.IsFinite(value)) return null;
        if (Math.Abs(value) <= Largest) return value;
        throw new ArgumentOutOfRangeException(nameof(number), value, $"{what} is beyond anything that a recorder shows: correct it, or leave it out.");
    }

    private static double? Size(double? rms, string what) => !(rms < 0)
        ? rms : throw new ArgumentOutOfRangeException(nameof(rms), rms, $"{what} is below zero, which an rms value can't be: correct it, or leave it out.");

    private static string Of(string what, int phase) => string.Create(CultureInfo.InvariantCulture, $"{what} of phase {phase}");
}
