using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Documents.Model;
using Leadwright.Documents.Words;
using Leadwright.Reports.Hookups;

namespace Leadwright.Documents.Reports;

/// <summary>What all parts share: the subject, the words, and how figures are written.</summary>
/// <param name="Subject">What the report is made from.</param>
/// <param name="Settings">How it is made.</param>
internal sealed record ReportContext(ReportSubject Subject, ReportSettings Settings)
{
    /// <summary>A share from which a part of the time counts as all of it.</summary>
    public const double Whole = 0.995;

    public ReportWords Words => Settings.Words;

    public IntervalLog Log => Subject.Recorded.Log;

    /// <summary>True when a mending changed or filled something.</summary>
    public bool IsMended => Subject.Mend is { Corrections.IsEmpty: false };

    /// <summary>Spans in which leads or clamps were not where they belong, or off.</summary>
    public IEnumerable<GuardSpan> HookupSpans => Subject.Guard is null ? [] : Subject.Guard.Spans.Where(span => span.Kind <= SpanKind.ServiceMismatch);

    public string Standing(Standing standing) => Words.Of($"standing.{standing.ToString().ToLowerInvariant()}");

    public string Kilo(double value, int digits) => Words.Digits(value / 1000, digits);

    /// <summary>A number in a cell, with so many significant digits.</summary>
    public TableCell Cell(double value, int digits) => new(Words.Digits(value, digits)) { Number = value };

    /// <summary>A number in a cell with fixed decimals.</summary>
    public TableCell Fixed(double value, string format) => new(Words.Number(value, format)) { Number = value };

    public static TableCell Cell(DateTime time) => new(ReportWords.Stamp(time)) { Time = time };

    /// <summary>A percentage that does not claim more than there is: never 100 or 0 unless it is.</summary>
    public string Percent(double share) => share switch
    {
        >= 1 => "100 %",
        > 0.9995 => "> 99.9 %",
        > 0.99 or < 0.01 => $"{Words.Number(100 * share, "0.0")} %",
        _ => $"{Words.Number(100 * share, "0.#")} %",
    };

    /// <summary>Digits that an energy with an uncertainty deserves: two of the uncertainty.</summary>
    public string Energy(double wattHours, double uncertaintyWattHours)
    {
        if (!(uncertaintyWattHours > 1e-4 * Math.Abs(wattHours)) || !double.IsFinite(wattHours) || wattHours == 0) return Kilo(wattHours, 5);
        var digits = (int)Math.Floor(Math.Log10(Math.Abs(wattHours))) - (int)Math.Floor(Math.Log10(uncertaintyWattHours)) + 2;
        return Kilo(wattHours, Math.Clamp(digits, 2, 7));
    }

    /// <summary>What stands on the first page and in the part about the site.</summary>
    public IEnumerable<(string Label, string Value)> Facts(bool isShort)
    {
        var letterhead = Settings.Letterhead;
        yield return (Words.Of("fact.customer"), string.Join(", ", letterhead.Customer));
        yield return (Words.Of("fact.site"), letterhead.Site);
        yield return (Words.Of("fact.panel"), letterhead.Panel);
        if (!isShort) yield return (Words.Of("fact.purpose"), letterhead.Purpose);
        if (!isShort) yield return (Words.Of("fact.service"), $"{ServiceName}{(Subject.Study.Data.Nominal is { } nominal ? $", {ServiceWording.Nominal(Subject.Study.Service, nominal)} V" : "")}{(Subject.Study.Data.NominalHertz > 0 ? $", {Words.Number(Subject.Study.Data.NominalHertz, "0")} Hz" : "")}");
        yield return (Words.Of("fact.period"), Log.Count == 0 ? "" : Words.Of("fact.period.says", ("from", Words.Time(Log.From)), ("to", Words.Time(Log.To)), ("length", Words.Length((Log.To - Log.From).TotalSeconds))));
        if (!isShort) yield return (Words.Of("fact.intervals"), Words.Of("fact.intervals.says", ("count", Log.Count.ToString(CultureInfo.InvariantCulture)), ("length", Words.Length(Log.IntervalSeconds))));
        yield return (Words.Of("fact.files"), string.Join(", ", Subject.Files.Select(file => file.Name)));
        yield return (Words.Of("fact.author"), letterhead.Author);
        yield return (Words.Of("fact.number"), letterhead.Number);
        if (Settings.Date is { } date) yield return (Words.Of("fact.date"), $"{Words.Date(date.ToDateTime(default))} {date.Year.ToString(CultureInfo.InvariantCulture)}");
    }

    public string ServiceName => !Subject.IsServiceKnown ? Words.Of("data.not-stated") : Words.Of($"service.{Subject.Study.Data.Service.ToString().ToLowerInvariant()}");

    /// <summary>A table of words and figures.</summary>
    public static TableBlock Table(string name, string caption, ImmutableArray<TableColumn> columns, IEnumerable<TableRow> rows, string note = "") =>
        new(name, caption, columns, [.. rows]) { Note = note };

    public TableColumn Text(string key) => new(Words.Of(key));

    public TableColumn Number(string key, string unit = "") => new(Words.Of(key), unit, IsNumber: true);

    /// <summary>The voltages to show: to neutral where there are any, else between lines.</summary>
    public static List<(string Name, StudySeries Series)> Voltages(StudyData data)
    {
        LogPlace[][] sets = [[LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3], [LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31]];
        foreach (var set in sets)
        {
            var found = set.Select(place => (Name: "V" + place.Suffix(), Series: data.Series(LogQuantity.Voltage, place))).Where(found => found.Series is { Count: > 0 } series && Enumerable.Range(0, series.Count).Any(series.IsKnown)).ToList();
            if (found.Count > 0) return [.. found.Select(voltage => (voltage.Name, voltage.Series!))];
        }

        return [];
    }
}
