using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;

namespace Leadwright.Reports.Measuring;

/// <summary>Writes a measurement for people, 80 columns wide.</summary>
public static class MeasureText
{
    private const int MostEvents = 20;

    /// <summary>The text.</summary>
    /// <param name="document">The measurement.</param>
    public static string Write(MeasureDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var culture = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        text.Append(culture, $"{document.File}: {Duration(document.Seconds)}");
        if (document.Start is { } start) text.Append(culture, $" from {RecordTime.Text(start, "yyyy-MM-dd HH:mm:ss")}");
        text.Append(culture, $", service {document.Service}{(document.Nominal is { } nominal ? $" {nominal} V" : "")}.\n\n");
        text.Append(culture, $"Frequency {document.FrequencyHertz:0.0000} Hz");
        if (double.IsFinite(document.LowestHertz)) text.Append(culture, $" ({document.LowestHertz:0.0000} to {document.HighestHertz:0.0000} over 10 s)");
        text.Append(".\n");
        if (double.IsFinite(document.UnbalancePercent))
            text.Append(culture, $"Unbalance u2 {document.UnbalancePercent:0.00} %, largest deviation {document.DeviationPercent:0.00} %.\n");
        text.Append("\nchannel        rms        min        max     THD %   crest  Pst (10 min)\n");
        foreach (var channel in document.Channels)
        {
            var flicker = string.Join(' ', channel.Pst.Take(4).Select(value => value.ToString("0.00", culture))) + (channel.Pst.Length > 4 ? " …" : "");
            text.Append(culture, $"{channel.Name,-5} {Short(channel.Rms),10} {channel.Unit}{Short(channel.Least),9}  {Short(channel.Most),9}  {channel.ThdPercent,8:0.00}  {channel.Crest,6:0.000}  {flicker}\n");
        }

        if (!document.Phases.IsEmpty)
        {
            text.Append("\nphase            W          var           VA      PF\n");
            foreach (var phase in document.Phases)
                text.Append(culture, $"{phase.Number,-5} {phase.Watts,12:0.0} {phase.Vars,12:0.0} {phase.VoltAmperes,12:0.0}  {phase.PowerFactor,6:0.000}\n");
            text.Append(culture, $"total {document.Watts,12:0.0} {document.Vars,12:0.0} {document.VoltAmperes,12:0.0}  {document.Watts / document.VoltAmperes,6:0.000}\n");
            text.Append(culture, $"Energy {document.ImportWattHours / 1000:0.###} kWh to the load, {document.ExportWattHours / 1000:0.###} kWh from it.\n");
        }

        AppendEvents(document, text, culture);
        foreach (var path in document.Written) text.Append(culture, $"\nWritten: {path}");
        if (!document.Written.IsEmpty) text.Append('\n');
        foreach (var note in document.Notes) text.Append(culture, $"\nNote: {note}");
        if (!document.Notes.IsEmpty) text.Append('\n');
        return text.ToString();
    }

    private static void AppendEvents(MeasureDocument document, StringBuilder text, CultureInfo culture)
    {
        text.Append(culture, $"\n{(document.Events.IsEmpty ? "No voltage events." : $"{document.Events.Length} voltage events:")}\n");
        foreach (var found in document.Events.Take(MostEvents))
        {
            var when = document.Start is { } start
                ? RecordTime.Text(start.AddSeconds(found.StartSeconds), "yyyy-MM-dd HH:mm:ss.fff")
                : string.Create(culture, $"{found.StartSeconds:0.000} s");
            text.Append(culture, $"  {when}  {found.Kind}, {string.Join(' ', found.Channels)}, {found.Seconds:0.####} s, {Words(found, culture)}\n");
        }

        if (document.Events.Length > MostEvents) text.Append(culture, $"  and {document.Events.Length - MostEvents} more.\n");
    }

    private static string Words(EventMeasurement found, CultureInfo culture) => found.Kind switch
    {
        "swell" => string.Create(culture, $"up to {found.ExtremePercent:0.0} %"),
        "rapid-voltage-change" => string.Create(culture, $"change of {found.ExtremePercent:0.0} %, {found.SteadyPercent:0.0} % lasting"),
        "transient" => string.Create(culture, $"off by {found.ExtremePercent:0} % of the peak"),
        _ => string.Create(culture, $"down to {found.ExtremePercent:0.0} %"),
    } + (found.IsCutShort ? ", cut short" : "");

    private static string Short(double value) =>
        double.IsFinite(value) ? value.ToString(Math.Abs(value) >= 1000 ? "0.0" : "0.000", CultureInfo.InvariantCulture) : "-";

    private static string Duration(double seconds) => seconds switch
    {
        < 600 => string.Create(CultureInfo.InvariantCulture, $"{seconds:0.###} s"),
        < 172800 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:0.##} h"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{seconds / 86400:0.##} days"),
    };
}
