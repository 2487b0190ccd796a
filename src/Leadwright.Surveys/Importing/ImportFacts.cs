using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys.Importing;

/// <summary>What is kept of an import beside the files: what was read, and all that was not understood.</summary>
internal static class ImportFacts
{
    public static RecordingImported Of(ImmutableArray<InputRecord> records, InputKind kind, ImportOptions options, ServiceKind? service)
    {
        var main = records.OfType<LogInput>().FirstOrDefault() ?? records.OfType<SampledInput>().FirstOrDefault() ?? records[0];
        var facts = main switch
        {
            LogInput log => OfLog(log.File, options),
            SampledInput samples => new RecordingImported(options.Name, "samples", "", [])
            {
                Count = samples.Recording.Channels.IsEmpty ? 0 : samples.Recording.Channels[0].Samples.Length,
                From = FromOf(samples.Recording),
                To = FromOf(samples.Recording) is { } from && samples.Recording.Segments is [.., var last] && last.StartSeconds + (last.Length / last.RateHertz) is > 0 and < 1e10 and var seconds
                    ? from.AddSeconds(seconds) : null,
                Remarks = ChannelRemarks(samples, options, service),
            },
            _ => new RecordingImported(options.Name, "readings", "", []),
        };
        IEnumerable<ImportRemark> remarks = [.. main.Warnings.Select(warning => new ImportRemark("warning", warning.Says)), .. facts.Remarks];
        if (records.Length > 1)
        {
            remarks = remarks.Append(new ImportRemark("note", string.Create(
                CultureInfo.InvariantCulture, $"The file holds {records.Length} recordings: {string.Join(", ", records.Select(record => record.Name))}. '{main.Name}' is shown; the others stay in the original.")));
        }

        return facts with { Format = Hyphened(kind.ToString()), Remarks = [.. remarks], Reading = ReadingOf(options) };
    }

    /// <summary>A recording too long to be read through at import.</summary>
    public static RecordingImported OfUnread(StagedFiles staged, InputKind kind, ImportOptions options) => new(options.Name, "samples", Hyphened(kind.ToString()), [])
    {
        Reading = ReadingOf(options),
        Remarks =
        [
            new("note", string.Create(
                CultureInfo.InvariantCulture, $"With {staged.Files.Sum(file => file.Bytes) >> 20} MB it was taken in without being read through. Measure it to learn what is in it.")),
        ],
    };

    public static bool IsScanned(int rows, ImportOptions options) => options.ScansIntegrity && rows <= options.MostRowsScanned;

    public static IntegrityRemark RemarkOf(GuardSpan span) => new(
        Hyphened(span.Kind.ToString()), [.. span.Leads.Select(lead => lead.ToString()), .. span.Clamps.Select(clamp => clamp.ToString())], span.From, span.To, Math.Round(span.Confidence, 4));

    // Which channels are leads and clamps, and which are nothing that is understood.
    private static ImmutableArray<ImportRemark> ChannelRemarks(SampledInput samples, ImportOptions options, ServiceKind? service)
    {
        try
        {
            var matching = ChannelMatcher.Match(samples.Recording, service ?? ChannelMatcher.ServiceFor(samples.Recording, options.Channels), options.Channels, samples.Name);
            var matched = string.Join(", ", matching.Matches.Select(match => $"{match.Channel} is '{match.SourceName}'{(match.IsTurned ? ", the other way round" : "")}"));
            return
            [
                new("note", $"Of its channels {matched}."), .. matching.Notes.Select(note => new ImportRemark("note", note)),
                .. matching.Unmatched.Select(channel => new ImportRemark("column-unread", $"Channel '{channel.SourceName}' is not used: {channel.Why}.")),
            ];
        }
        catch (FormatReadException failure) when (options.Channels is null)
        {
            return [new("question", $"Which channel is which? {failure.Message}")];
        }
    }

    /// <summary>A profile as a document.</summary>
    public static JsonElement DocumentOf(ColumnProfile profile)
    {
        using var document = JsonDocument.Parse(ColumnProfileWriter.Write(profile));
        return document.RootElement.Clone();
    }

    private static RecordingReading? ReadingOf(ImportOptions options) => RecordingReading.Of(options.Read, options.Channels) is { SaysNothing: false } reading ? reading : null;

    private static DateTime? FromOf(SampledRecording recording) => recording.Start is { Year: > 1 and < 9000 } start ? start : null;

    private static RecordingImported OfLog(LogFile file, ImportOptions options)
    {
        var remarks = ImmutableArray.CreateBuilder<ImportRemark>();
        remarks.AddRange(file.Questions.Select(question => new ImportRemark("question", question)));
        foreach (var column in file.Columns)
        {
            if (column.Role == ColumnRole.LeftOut) remarks.Add(new("column-unread", $"Column '{column.Heading}' is not read: {column.Why}."));
            else if (column.IsUnknown) remarks.Add(new("column-unread", $"Column '{column.Heading}' is kept under its own name, and used for nothing: {column.Why}."));
            else if (column.IsUnsure) remarks.Add(new("column-unsure", $"Column '{column.Heading}' is taken for {ColumnStatementText.Of(column)}, which is not sure: {column.Why}."));
        }

        if (options.ScansIntegrity && !IsScanned(file.Log.Count, options))
            remarks.Add(new("note", string.Create(CultureInfo.InvariantCulture, $"With {file.Log.Count} rows it was not looked through at import. A guard does it.")));
        return new RecordingImported(options.Name, "log", "", [])
        {
            Columns = file.Columns.IsEmpty ? null : DocumentOf(ColumnProfile.Of(file)),
            IsConfirmed = (options.IsConfirmed || file.IsConfirmed) && !file.Columns.IsEmpty,
            Remarks = remarks.ToImmutable(),
            Clock = [.. file.Clock.Select(finding => new ClockRemark(
                Hyphened(finding.Kind.ToString()), new DateTime(Math.Clamp(finding.Before, 0, DateTime.MaxValue.Ticks)), new DateTime(Math.Clamp(finding.At, 0, DateTime.MaxValue.Ticks)),
                finding.RowCount, finding.Seconds))],
            Count = file.Log.Count,
            From = file.Log.Count == 0 ? null : file.Log.From,
            To = file.Log.Count == 0 ? null : file.Log.To,
            IntervalSeconds = file.Log.IntervalSeconds,
        };
    }

    private static string Hyphened(string name) =>
        string.Concat(name.Select((letter, index) => char.IsAsciiLetterUpper(letter) ? (index > 0 ? "-" : "") + char.ToLowerInvariant(letter) : letter.ToString()));
}
