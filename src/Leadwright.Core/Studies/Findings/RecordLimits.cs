using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Findings;

/// <summary>What a record can't show.</summary>
public static class RecordLimits
{
    /// <summary>Names it, in whole sentences.</summary>
    /// <param name="data">What was studied.</param>
    /// <param name="hasEvents">True when events were looked for in a waveform or came with the record.</param>
    public static ImmutableArray<string> Of(StudyData data, bool hasEvents)
    {
        ArgumentNullException.ThrowIfNull(data);
        var log = data.Log;
        var says = ImmutableArray.CreateBuilder<string>();
        var days = (log.To - log.From).TotalDays;
        var seconds = (log.To - log.From).TotalSeconds;
        if (seconds < 3600) says.AddRange(OfShort(seconds));
        if (days < 7) says.Add(FormattableString.Invariant($"The record covers {LengthOf(days)}: nothing that a whole week decides, and no other weekday, can be told from it."));
        else if (days < 30) says.Add(FormattableString.Invariant($"The record covers {days:0.#} days: the month's peak and the existing-load rule's thirty days are beyond it."));
        if (days < 300) says.Add("One season only: heating and cooling of the other half of the year are not in it.");
        if (!hasEvents) says.Add(FormattableString.Invariant($"Intervals of {log.IntervalSeconds:0.###} s hold no waveform: dips, swells and transients, their type and where they came from can't be told."));
        if (log.IntervalSeconds > 600) says.Add("Limits on values of ten minutes can't be judged from longer intervals.");
        if (log.IntervalSeconds >= 900) says.Add("Starts of motors and loads that switch within an interval are not seen.");
        if (!log.Has(LogQuantity.Voltage)) says.Add("No voltages were recorded: nothing can be said of their level.");
        if (!log.Has(LogQuantity.Current)) says.Add("No currents were recorded: loading of phases and neutral is not known.");
        else if (data.Service is Circuits.ServiceKind.Wye && data.Series(LogQuantity.Current, LogPlace.Neutral) is null) says.Add("The neutral had no clamp: its current, and third harmonics in it, are not known.");
        if (!log.Has(LogQuantity.VoltageHarmonic) && !log.Has(LogQuantity.CurrentHarmonic)) says.Add("No harmonics by order were recorded.");
        if (data.ActivePower(LogPlace.Phase1) is null && data.ActivePower(LogPlace.Whole) is not null && data.Service is Circuits.ServiceKind.Wye or Circuits.ServiceKind.Split)
            says.Add("Power was recorded as a total: which phase carries it is not known.");
        return says.ToImmutable();
    }

    private static string LengthOf(double days) => days switch
    {
        < 1.0 / 24 / 30 => FormattableString.Invariant($"{days * 86400:0.##} s"),
        < 1.0 / 12 => FormattableString.Invariant($"{days * 1440:0.#} minutes"),
        < 1 => FormattableString.Invariant($"{days * 24:0.#} hours"),
        _ => FormattableString.Invariant($"{days:0.##} {(days.ToString("0.##", CultureInfo.InvariantCulture) == "1" ? "day" : "days")}"),
    };

    // The times are those of IEC 61000-4-30 (10 s, 10 min) and of the demand that most tariffs count.
    private static IEnumerable<string> OfShort(double seconds)
    {
        if (seconds < 10) yield return "Frequency is counted over 10 s: what stands here is a shorter mean of it.";
        if (seconds < 600) yield return "No value of ten minutes is in it: limits on such values, and short-term flicker, can't be judged.";
        if (seconds < 900) yield return "No demand of 15 minutes is in it: the power of these moments is no peak demand.";
        yield return "The load of these moments need not be that of any other: the recorder has to stay for as long as the question asks.";
    }
}
