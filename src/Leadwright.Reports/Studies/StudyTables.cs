using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Reports.Studies;

/// <summary>The tables of a study as comma-separated text (RFC 4180, decimal points). Names carry the unit.</summary>
public static class StudyTables
{
    /// <summary>All tables that the study has something for.</summary>
    /// <param name="document">The study.</param>
    public static IEnumerable<StudyFile> Of(StudyDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        if (document.Load is { } load)
        {
            yield return Energy("energy-by-hour", load.Hours);
            yield return Energy("energy-by-day", load.Days);
            yield return Energy("energy-by-month", load.Months);
            if (!load.Periods.IsEmpty) yield return Energy("energy-by-period", load.Periods);
            yield return Peaks(load);
            if (!load.Peaks.IsEmpty && Demand.Series(load.Power, load.Peaks[0].Kind, load.Peaks[0].Minutes) is { } demand) yield return Series("demand", "demand_W", demand);
            yield return Duration(load);
            yield return HeatMap(load);
        }

        if (!document.Limits.IsEmpty) yield return Limits(document);
        if (document.Limits.Any(report => report.Lines.Any(line => !line.Channels.IsEmpty))) yield return LimitChannels(document);
        if (document.Events is { IsEmpty: false }) yield return Events(document);
        if (!document.WorstDays.IsEmpty) yield return Days(document);
    }

    private static StudyFile Energy(string name, IEnumerable<EnergyRow> rows) => Table(
        name, "stretch,from,import_Wh,export_Wh,known_s,stretch_s,modelled_Wh,standing",
        rows.Select(row => Row(row.Name, StudyWords.Iso(row.From), row.ImportWattHours, row.ExportWattHours, row.KnownSeconds, row.Seconds, row.ModelledWattHours, StudyWords.Of(row.Weakest))));

    private static StudyFile Peaks(LoadStudy load) => Table(
        "demand-peaks", "kind,window_min,peak_W,from,to,phase1_W,phase2_W,phase3_W,windows,left_out,highest_modelled_W,load_factor,standing",
        load.Peaks.Select(peak => Row(
            StudyWords.Kind(peak.Kind), peak.Minutes, peak.Watts, StudyWords.Iso(peak.From), StudyWords.Iso(peak.To), Phase(peak, 0), Phase(peak, 1), Phase(peak, 2),
            peak.WindowCount, peak.LeftOutCount, peak.HighestModelledWatts, peak.LoadFactor, StudyWords.Of(peak.Weakest))));

    private static double Phase(DemandPeak peak, int index) => index < peak.PhaseWatts.Length ? peak.PhaseWatts[index] : double.NaN;

    private static StudyFile Series(string name, string column, StudySeries series) => Table(
        name, $"start,{column},standing",
        Enumerable.Range(0, series.Count).Select(row => Row(StudyWords.Iso(series.StartOf(row)), series.Values[row], StudyWords.Of(series.StandingOf(row)))));

    private static StudyFile Duration(LoadStudy load) => Table(
        "load-duration", "share_percent,power_W", load.Duration.Select((watts, index) => Row(100.0 * (index + 1) / load.Duration.Length, watts)));

    private static StudyFile HeatMap(LoadStudy load) => Table(
        "load-by-day-and-hour", "date," + string.Join(',', Enumerable.Range(0, 24).Select(hour => $"h{hour:00}_W")),
        load.HeatMap.Select(day => Row([RecordTime.Iso(day.Date, "yyyy-MM-dd"), .. day.Watts.Select(watts => (object)watts)])));

    private static StudyFile Limits(StudyDocument document) => Table(
        "limits", "table,edition,id,clause,quantity,channel,verdict,measured,least,most,unit,share_percent,within_percent,values,needed,flagged,standing,why,source",
        document.Limits.SelectMany(report => report.Lines.Select(line => Row(
            report.Table.Name, report.Table.Edition, line.Rule.Id, line.Rule.Clause, StudyWords.Quantity(line.Rule, line.Order), StudyWords.Channel(line.Rule.Quantity, line.Place),
            StudyWords.Verdict(line.Verdict), line.Measured, line.Least, line.Most, line.Unit, line.Rule.SharePercent, line.WithinPercent, line.Count, line.NeededCount,
            line.FlaggedCount, line.Count > 0 ? StudyWords.Of(line.Weakest) : "", line.Why, line.Rule.Source))));

    private static StudyFile Days(StudyDocument document) => Table(
        "worst-days", "by,unit,rank,day,value,known_share,at",
        document.WorstDays.SelectMany(ranking => ranking.Days.Select((day, at) => Row(
            ranking.Name, ranking.Unit, at + 1, RecordTime.Iso(day.Day, "yyyy-MM-dd"), day.Value, day.KnownShare, day.At is { } time ? StudyWords.Iso(time) : ""))));

    private static StudyFile LimitChannels(StudyDocument document) => Table(
        "limits-by-channel", "table,id,channel,order,verdict,measured,least,most,unit,within_percent,values,flagged,standing,why",
        document.Limits.SelectMany(report => report.Lines.SelectMany(line => line.Channels).Select(line => Row(
            report.Table.Name, line.Rule.Id, StudyWords.Channel(line.Rule.Quantity, line.Place), line.Order, StudyWords.Verdict(line.Verdict), line.Measured, line.Least, line.Most, line.Unit,
            line.WithinPercent, line.Count, line.FlaggedCount, line.Count > 0 ? StudyWords.Of(line.Weakest) : "", line.Why))));

    private static StudyFile Events(StudyDocument document) => Table(
        "events", $"kind,channels,start,duration_s,extreme_percent,{string.Concat(document.Curves.Select(curve => StudyWords.Key(curve) + ","))}type,origin,looks_like,capacitor,flags",
        document.Events!.Value.Select(found => Row([found.Kind, string.Join(' ', found.Channels), StudyWords.Iso(found.Start), found.Seconds, found.ExtremePercent,
            .. document.Curves.Select(curve => (object)(found.HasMagnitude ? StudyWords.Of(found.RegionOf(curve)) : "")),
            found.Type is { } type ? StudyWords.Of(type) : "", found.Origin is { } origin ? StudyWords.Of(origin.Side) : "", found.Cause is { } cause ? StudyWords.Of(cause.Kind) : "",
            found.Capacitor is { } capacitor ? StudyWords.Of(capacitor.Side) : "", found.IsCutShort ? "cut-short" : ""])));

    private static StudyFile Table(string name, string head, IEnumerable<string> rows)
    {
        var text = new StringBuilder(head).Append('\n');
        foreach (var row in rows) text.Append(row).Append('\n');
        return new StudyFile(name + ".csv", text.ToString());
    }

    private static string Row(params object[] cells) => string.Join(',', cells.Select(cell => cell switch
    {
        double number => double.IsFinite(number) ? number.ToString("G12", CultureInfo.InvariantCulture) : "",
        int number => number.ToString(CultureInfo.InvariantCulture),
        string text when text.AsSpan().IndexOfAny(",\"\r\n") >= 0 => $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"",
        _ => cell.ToString(),
    }));
}
